/** Sheets of labels: where each label lies on an A4 page, so that what is printed meets the gaps of the paper. */

export const A4 = { widthMm: 210, heightMm: 297 } as const;

export interface LabelSheet {
  name: string;
  columns: number;
  rows: number;
  widthMm: number;
  heightMm: number;
  /** From the page's edges to the first label. */
  leftMm: number;
  topMm: number;
  /** Between two columns; rows touch. */
  gapMm: number;
}

/** Common sizes of label paper (common practice; hold a printed sheet against yours before you print many). */
export const LABEL_SHEETS = {
  "24": {
    name: "70 x 37 mm, 24 a sheet",
    columns: 3,
    rows: 8,
    widthMm: 70,
    heightMm: 37,
    leftMm: 0,
    topMm: 0.5,
    gapMm: 0,
  },
  "14": {
    name: "99.1 x 38.1 mm, 14 a sheet",
    columns: 2,
    rows: 7,
    widthMm: 99.1,
    heightMm: 38.1,
    leftMm: 4.65,
    topMm: 15.15,
    gapMm: 2.5,
  },
  "8": {
    name: "99.1 x 67.7 mm, 8 a sheet",
    columns: 2,
    rows: 4,
    widthMm: 99.1,
    heightMm: 67.7,
    leftMm: 4.65,
    topMm: 13.1,
    gapMm: 2.5,
  },
  "4": {
    name: "105 x 148.5 mm, 4 a sheet",
    columns: 2,
    rows: 2,
    widthMm: 105,
    heightMm: 148.5,
    leftMm: 0,
    topMm: 0,
    gapMm: 0,
  },
} as const satisfies Record<string, LabelSheet>;

export type LabelSheetKey = keyof typeof LABEL_SHEETS;

export interface Slot {
  page: number;
  leftMm: number;
  topMm: number;
}

export const perSheet = ({ columns, rows }: LabelSheet): number => columns * rows;

/**
 * Places for `count` labels, row by row, sheet by sheet.
 *
 * @param used labels that are gone from the first sheet already, from its top left
 * @throws RangeError when more are gone than the sheet has
 */
export function slotsOf(sheet: LabelSheet, count: number, used: number): Slot[] {
  const most = perSheet(sheet);
  if (!(used >= 0 && used < most))
    throw new RangeError(`used must be 0 to ${most - 1} labels of a sheet, got ${used}`);
  return Array.from({ length: count }, (_, i) => {
    const at = used + i;
    const inSheet = at % most;
    return {
      page: Math.floor(at / most),
      leftMm: sheet.leftMm + (inSheet % sheet.columns) * (sheet.widthMm + sheet.gapMm),
      topMm: sheet.topMm + Math.floor(inSheet / sheet.columns) * sheet.heightMm,
    };
  });
}

/** Free rim inside a label, because no printer meets its edge. */
export const LABEL_RIM_MM = 3;
/** Least side of a label's code that a phone reads at arm's length (common practice). */
const QR_LEAST_MM = 18;
/** Beyond this a code only takes the room of the words. */
const QR_MOST_MM = 60;

/** Side of a label's QR code with its quiet zone. */
export function qrSideMm({ widthMm, heightMm }: LabelSheet): number {
  const room = Math.min(heightMm - 2 * LABEL_RIM_MM, (widthMm - 2 * LABEL_RIM_MM) / 2);
  return Math.min(QR_MOST_MM, Math.max(QR_LEAST_MM, Math.floor(room)));
}
