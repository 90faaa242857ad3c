/** Problems that know their file, and the limits that refuse a file politely. */
import type { ExchangeProblem, RowFault } from "./types";

export const MAX_FILE_BYTES = 25 * 1024 * 1024;
/** Unpacked size of a workbook: about what 25 MB of ordinary sheets unpack to. */
export const MAX_UNPACKED_BYTES = 250 * 1024 * 1024;
/** Cells of a whole workbook; the reader keeps about 1 kB for each. */
export const MAX_WORKBOOK_CELLS = 500_000;
export const MAX_ROWS = 300_000;
export const MAX_COLUMNS = 300;

export interface Place {
  fileName: string;
  sheet?: string;
  row?: number;
  column?: string;
}

export type Fault = Omit<RowFault, "key">;

export function problemAt(place: Place, fault: Fault): ExchangeProblem {
  const where = [
    place.sheet ? `${place.fileName} (sheet ${place.sheet})` : place.fileName,
    ...(place.row === undefined ? [] : [`row ${place.row}`]),
    ...(place.column === undefined ? [] : [place.column]),
  ];
  return {
    ...place,
    path: where.join(", "),
    rule: fault.rule,
    ...(fault.value === undefined ? {} : { value: fault.value }),
    message: fault.message,
    remedy: fault.remedy,
    ...(fault.said && { said: fault.said }),
  };
}

/** "104.9 MB", in the megabytes of 1,048,576 bytes that file managers show. */
export function megabytes(bytes: number): string {
  return `${(bytes / 1048576).toFixed(1)} MB`;
}

/**
 * Is the file small enough to be read? Needs the size only, so an upload can be refused before its first byte.
 * @param sizeBytes size of the file, bytes
 */
export function fileSizeProblem(fileName: string, sizeBytes: number): ExchangeProblem | undefined {
  if (sizeBytes <= MAX_FILE_BYTES) return undefined;
  return problemAt(
    { fileName },
    {
      rule: "file-too-large",
      value: sizeBytes,
      message: `The file has ${megabytes(sizeBytes)}; at most ${megabytes(MAX_FILE_BYTES)} can be read.`,
      remedy:
        "Split it into several files with the same header (any number can be imported together), or leave out columns that are not needed.",
    },
  );
}
