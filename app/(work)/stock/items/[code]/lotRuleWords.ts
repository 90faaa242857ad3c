import type { LotRule } from "@/lib/stock";

const WORDS: Readonly<Record<LotRule["kind"], string>> = {
  "lot for lot": "lot for lot",
  "fixed multiple": "fixed multiple",
  minimum: "minimum and multiple",
  "Silver-Meal": "Silver-Meal",
  "Wagner-Whitin": "Wagner-Whitin",
  "price breaks": "price breaks",
};

export const lotRuleWords = (kind: LotRule["kind"]): string => WORDS[kind];
