import type { Words } from "@/app/_ui/language/words";
import type { LotRule } from "@/lib/stock";

export const LOT_RULE_WORDS: Readonly<Record<LotRule["kind"], string>> = {
  "lot for lot": "lot for lot",
  "fixed multiple": "fixed multiple",
  minimum: "minimum and multiple",
  "Silver-Meal": "Silver-Meal",
  "Wagner-Whitin": "Wagner-Whitin",
  "price breaks": "price breaks",
};

export const lotRuleWords = (kind: LotRule["kind"], { t }: Words): string => t(LOT_RULE_WORDS[kind]);
