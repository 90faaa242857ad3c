import { checkText } from "@/app/_ui/language/checkText";
import { places, withParts } from "@/app/_ui/language/parts";
import type { Words } from "@/app/_ui/language/words";
import { whyWords } from "./why";

/** Why a visit has no place. What a design check said and no list knows is English and marked so. */
export function WhyUnplaced({ reason, words }: { reason: string; words: Words }) {
  const check = /^design check: (.*)$/s.exec(reason)?.[1];
  if (check === undefined) return whyWords(reason, words);
  return withParts(words.t("design check: {{message}}", places("message")), {
    message: checkText(check, words),
  });
}
