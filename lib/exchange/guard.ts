/**
 * The guard against formulas in exported text: a spreadsheet program would run a cell that starts with one of these
 * characters. One apostrophe goes in front on export and exactly this one comes off on import.
 */

/**
 * First characters that are neutralised: = + - @ TAB CR (common lists), NUL (one list has it instead of CR), LF and
 * the full-width forms of the first four (from memory: some programs take them for the plain ones).
 */
const RISKY = "=+\\-@\\t\\r\\n\\0\\uFF1D\\uFF0B\\uFF0D\\uFF20";
/** Text that needs a guard. Apostrophes before a risky character count as well, so that taking one off is exact. */
const NEEDS_GUARD = new RegExp(`^'*[${RISKY}]`);
const HAS_GUARD = new RegExp(`^'+[${RISKY}]`);

/** For text cells only: a number from a number column is written as it is, `-3.5` stays a number. */
export function guardText(text: string): string {
  return NEEDS_GUARD.test(text) ? `'${text}` : text;
}

/** Undoes `guardText`, for every text: `unguardText(guardText(t)) === t`. */
export function unguardText(text: string): string {
  return HAS_GUARD.test(text) ? text.slice(1) : text;
}
