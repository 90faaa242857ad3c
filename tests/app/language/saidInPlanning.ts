/** Texts that pages of the area planning say through a variable. */
export const SAID_IN_PLANNING: readonly string[] = [];
