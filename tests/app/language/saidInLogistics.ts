/** Texts that pages of the area logistics say through a variable. */
export const SAID_IN_LOGISTICS: readonly string[] = [];
