/** "Notice": the site is told so many days ahead; a date that stands in the plan in force was already told. */
import { counted } from "../counted";
import type { Model } from "../model";

export const NOTICE = {
  name: "notice",
  text: (days: number) => `the site wants ${counted(days, "day's", "days'")} notice`,
};

export const noticeIsKept = (m: Model, v: number, day: number): boolean =>
  day >= m.noticeDay[v]! || day === m.wasDay[v];
