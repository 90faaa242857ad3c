/** What the address of the labels page asks for. */
import type { LabelWish } from "@/db/queries/labels";
import { LABEL_KINDS, LABEL_SHEETS, type LabelKind, type LabelSheetKey, perSheet } from "@/lib/labels";
import type { CalendarDate } from "@/lib/time";

/** As many as a person prints at one go; more would be a long page and a wrong press away from a lot of paper. */
export const LABELS_MOST = 200;

/** What is labelled, as the tabs say it. */
export const KIND_WORDS: Readonly<Record<LabelKind, string>> = {
  drum: "Drums",
  place: "Places",
  kit: "Kits",
  item: "Shelves of items",
};

export interface LabelPage {
  wish: LabelWish;
  size: LabelSheetKey;
  /** Labels gone from the first sheet. */
  used: number;
}

const DAY = /^\d{4}-\d{2}-\d{2}$/;
const dayOf = (text: string | undefined): CalendarDate | undefined =>
  text && DAY.test(text) ? (text as CalendarDate) : undefined;

/** What cannot be read counts as not asked for. */
export function labelPage(params: Record<string, string | undefined>): LabelPage {
  const kind = LABEL_KINDS.find((k) => k === params.kind) ?? "drum";
  const size = (Object.keys(LABEL_SHEETS) as LabelSheetKey[]).find((k) => k === params.size) ?? "14";
  const used = Math.trunc(Number(params.used ?? 0));
  return {
    wish: {
      kind,
      placeCode: params.place || undefined,
      code: params.code || undefined,
      from: dayOf(params.from),
      to: dayOf(params.to),
    },
    size,
    used: used > 0 && used < perSheet(LABEL_SHEETS[size]) ? used : 0,
  };
}
