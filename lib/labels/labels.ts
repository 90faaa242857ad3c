/** What stands in the QR code of a label, and what a scanner's text means. */

export const LABEL_KINDS = ["drum", "place", "kit", "item"] as const;
export type LabelKind = (typeof LABEL_KINDS)[number];

/** Tells our own labels from a maker's barcode. */
const PREFIX = "BTH";

export interface Label {
  kind: LabelKind;
  /** Serial of a drum, code of a place or item, id of the visit that a kit is for. */
  code: string;
}

/** The label's content: short, no address in it, so that it stays true when the server moves. */
export const labelText = ({ kind, code }: Label): string => `${PREFIX}:${kind.toUpperCase()}:${code}`;

/**
 * What a scanned text says. A text without our prefix may be a maker's own barcode: its kind is open and the text
 * itself is the code.
 */
export function readLabel(text: string): { kind: LabelKind | undefined; code: string } {
  const trimmed = text.trim();
  const [prefix, word, ...rest] = trimmed.split(":");
  const kind = LABEL_KINDS.find((k) => k.toUpperCase() === word?.toUpperCase());
  const code = rest.join(":").trim();
  if (prefix?.toUpperCase() !== PREFIX || !kind || code === "") return { kind: undefined, code: trimmed };
  return { kind, code };
}

/** Whether a scanned text is this drum's: its label, or its serial as the maker printed it. */
export function isDrum(text: string, serial: string): boolean {
  const { kind, code } = readLabel(text);
  return (kind === undefined || kind === "drum") && code.toUpperCase() === serial.toUpperCase();
}

/** What a pick line can be told by at the shelf. */
export interface ScannableLine {
  lineNo: number;
  itemCode: string;
  /** Lots that it is picked from. */
  lotCodes: readonly string[];
  /** Lots of its item from which it is not picked. */
  otherLotCodes: readonly string[];
  /** The drum from which its run was cut. */
  cutFrom: string | null;
  isPicked: boolean;
}

export type LineScan =
  | { found: "line"; lineNo: number }
  /** All lines that fit are in the box already. */
  | { found: "picked"; lineNo: number }
  /** The right item, of a lot that the line is not picked from. */
  | { found: "other lot"; lineNo: number }
  | { found: "none" };

/** The line of a kit that a scanned text means: the first that is not picked yet. */
export function lineOfScan(lines: readonly ScannableLine[], text: string): LineScan {
  const { kind, code } = readLabel(text);
  const wanted = code.toUpperCase();
  const is = (value: string | null) => value?.toUpperCase() === wanted;
  const fitting = lines.filter((l) => {
    if (kind === "item") return is(l.itemCode);
    if (kind === "drum") return is(l.cutFrom);
    if (kind !== undefined) return false;
    return is(l.itemCode) || is(l.cutFrom) || l.lotCodes.some(is);
  });
  const open = fitting.find((l) => !l.isPicked);
  if (open) return { found: "line", lineNo: open.lineNo };
  if (fitting[0]) return { found: "picked", lineNo: fitting[0].lineNo };
  const ofItem = kind === undefined ? lines.filter((l) => l.otherLotCodes.some(is)) : [];
  const meant = ofItem.find((l) => !l.isPicked) ?? ofItem[0];
  if (!meant) return { found: "none" };
  return { found: meant.isPicked ? "picked" : "other lot", lineNo: meant.lineNo };
}
