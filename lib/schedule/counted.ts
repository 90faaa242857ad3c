/** "1 day", "2 days": reasons are kept as English text, so the count is put into words where they are made. */
export const counted = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;
