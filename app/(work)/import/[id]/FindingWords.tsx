"use client";

import { English } from "@/app/_ui/language/English";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { messageOf, remedyOf } from "@/app/_ui/language/problemWords";
import type { ExchangeProblem } from "@/lib/exchange";

type Told = Pick<ExchangeProblem, "message" | "remedy" | "said">;

/** What is wrong with a row, in the reader's language where it is kept as a sentence; what is not stays English. */
export function FindingWords({ problem }: { problem: Told }) {
  const words = useWords();
  return problem.said?.message ? messageOf(problem, words) : <English>{problem.message}</English>;
}

/** What to do about it, likewise. */
export function RemedyWords({ problem }: { problem: Told }) {
  const words = useWords();
  return problem.said?.remedy ? remedyOf(problem, words) : <English>{problem.remedy}</English>;
}
