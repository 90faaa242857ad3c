/** A look into a workbook's zip container before anything unpacks it: is it whole, how large, how many cells? */
import { inflateRawSync } from "node:zlib";
import type { Fault } from "./problems";
import { MAX_UNPACKED_BYTES, MAX_WORKBOOK_CELLS, megabytes } from "./problems";

const END_RECORD = 0x06054b50;
const CENTRAL_ENTRY = 0x02014b50;
const LOCAL_ENTRY = 0x04034b50;
const END_RECORD_BYTES = 22;
/** "<c" as bytes. */
const LESS_THAN = 0x3c;
const LETTER_C = 0x63;

const DAMAGED: Fault = {
  rule: "workbook-damaged",
  message: "The file is not a whole .xlsx workbook.",
  remedy: "Open it in a spreadsheet program, save it again as .xlsx, or save the sheet as CSV.",
};

/**
 * Unpacks every part once with a running limit and counts the cells of the sheets, so that a small file cannot
 * grow without end in the reader. Sizes stated in the directory are not trusted.
 *
 * @returns the reason to refuse, or undefined
 */
export function workbookFault(bytes: Uint8Array): Fault | undefined {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = findEnd(view);
  if (end < 0) return DAMAGED;
  const entryCount = view.getUint16(end + 10, true);
  let at = view.getUint32(end + 16, true);
  let unpacked = 0;
  let cells = 0;
  let hasWorkbook = false;
  for (let i = 0; i < entryCount; i++) {
    if (at + 46 > bytes.length || view.getUint32(at, true) !== CENTRAL_ENTRY) return DAMAGED;
    const flags = view.getUint16(at + 8, true);
    const method = view.getUint16(at + 10, true);
    const packed = view.getUint32(at + 20, true);
    const nameBytes = view.getUint16(at + 28, true);
    const name = new TextDecoder().decode(bytes.subarray(at + 46, at + 46 + nameBytes));
    const local = view.getUint32(at + 42, true);
    at += 46 + nameBytes + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
    if ((flags & 1) !== 0) {
      return {
        rule: "workbook-protected",
        message: "The workbook is encrypted.",
        remedy: "Save a copy without a password, or save the sheet as CSV.",
      };
    }
    if (local + 30 > bytes.length || view.getUint32(local, true) !== LOCAL_ENTRY) return DAMAGED;
    const from = local + 30 + view.getUint16(local + 26, true) + view.getUint16(local + 28, true);
    if (from + packed > bytes.length || (method !== 0 && method !== 8)) return DAMAGED;
    if (/(^|\/)xl\/workbook\.xml$/.test(name)) hasWorkbook = true;
    const part = unpack(bytes.subarray(from, from + packed), method, MAX_UNPACKED_BYTES - unpacked);
    if (part === "too large") {
      return {
        rule: "workbook-too-large",
        message: `Unpacked, the workbook has more than ${megabytes(MAX_UNPACKED_BYTES)}.`,
        remedy: "Remove pictures and sheets that are not needed, or save the sheet as CSV.",
      };
    }
    if (part === "damaged") return DAMAGED;
    unpacked += part.length;
    if (/^xl\/worksheets\/[^/]+\.xml$/.test(name)) cells += countCells(part);
    if (cells > MAX_WORKBOOK_CELLS) {
      return {
        rule: "workbook-too-many-cells",
        value: cells,
        message: `The workbook has more than ${MAX_WORKBOOK_CELLS.toLocaleString("en")} cells.`,
        remedy: "Split it into several files, or save the sheet as CSV, which may be larger.",
      };
    }
  }
  if (!hasWorkbook) return { ...DAMAGED, message: "The file is a zip archive, not an .xlsx workbook." };
  return undefined;
}

function findEnd(view: DataView): number {
  const last = view.byteLength - END_RECORD_BYTES;
  for (let at = last; at >= Math.max(0, last - 65_535); at--) {
    if (view.getUint32(at, true) === END_RECORD) return at;
  }
  return -1;
}

function unpack(part: Uint8Array, method: number, limit: number): Uint8Array | "too large" | "damaged" {
  if (method === 0) return part.length > limit ? "too large" : part;
  if (limit < 1) return "too large";
  try {
    return inflateRawSync(part, { maxOutputLength: limit });
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "ERR_BUFFER_TOO_LARGE" ? "too large" : "damaged";
  }
}

/** Counts `<c` before a space, `>` or `/`: cell elements. Sheets with a namespace prefix are refused by the reader. */
function countCells(xml: Uint8Array): number {
  let n = 0;
  for (let i = xml.indexOf(LESS_THAN); i >= 0 && i + 2 < xml.length; i = xml.indexOf(LESS_THAN, i + 1)) {
    const next = xml[i + 2]!;
    if (xml[i + 1] === LETTER_C && (next === 0x20 || next === 0x3e || next === 0x2f)) n++;
  }
  return n;
}
