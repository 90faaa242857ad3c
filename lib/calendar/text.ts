/** The text level of RFC 5545: values escaped (3.3.11), lines folded (3.1), moments in UTC (3.3.5, form 2). */

/** A content line may have this many octets, the line break not counted. */
const LINE_MOST_OCTETS = 75;

/** A TEXT value. Control characters that the format has no place for are dropped. */
export function escapeText(text: string): string {
  return text
    .replace(/\r\n?/g, "\n")
    .replace(/[^\P{Cc}\n\t]/gu, "")
    .replace(/[\\;,]/g, (mark) => `\\${mark}`)
    .replaceAll("\n", "\\n");
}

const encoder = new TextEncoder();

/** One content line in pieces of at most 75 octets, never within a character; each further piece begins with a space. */
export function foldLine(line: string): string {
  const pieces: string[] = [];
  let piece = "";
  let octets = 0;
  for (const character of line) {
    const size = encoder.encode(character).length;
    if (octets + size > LINE_MOST_OCTETS) {
      pieces.push(piece);
      piece = " ";
      octets = 1;
    }
    piece += character;
    octets += size;
  }
  pieces.push(piece);
  return pieces.join("\r\n");
}

/** `20260316T073000Z`. The format has no fractions of a second. */
export function utcMoment(instant: number): string {
  return `${new Date(Math.floor(instant / 1000) * 1000).toISOString().replace(/[-:]|\.000/g, "")}`;
}
