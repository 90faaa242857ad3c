/** Texts that pages of the area design say through a variable. */
export const SAID_IN_DESIGN: readonly string[] = [];
