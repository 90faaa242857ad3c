/** Unique text for one intent. Also where the page is served over plain HTTP, where browsers withhold `randomUUID`. */
export function newKey(): string {
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (b) => b.toString(16).padStart(2, "0")).join(
    "",
  );
}
