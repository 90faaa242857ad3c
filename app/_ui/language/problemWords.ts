/** What is wrong and what to do, in the reader's language. */
import { phrase } from "@/lib/phrase";
import type { Problem } from "@/lib/result";
import type { Words } from "./words";

/** What is said of a problem, wherever it was. */
type Told = Pick<Problem, "message" | "remedy" | "said">;

type Saying = Pick<Words, "t" | "say">;

/** @param label what stands over the field, in the reader's language: the message names the field so */
export function messageOf({ message, said }: Told, { t, say }: Saying, label?: string): string {
  if (!said?.message) return t(message);
  const { text, values } = said.message;
  return say(label && values?.field ? phrase(text, { ...values, field: label }) : said.message);
}

export const remedyOf = ({ remedy, said }: Told, { t, say }: Saying): string =>
  said?.remedy ? say(said.remedy) : t(remedy);

/** Both, as a field shows them under itself. */
export const problemWords = (problem: Told, words: Saying): string =>
  `${messageOf(problem, words)} ${remedyOf(problem, words)}`.trim();
