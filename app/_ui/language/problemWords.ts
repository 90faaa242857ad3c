/** What is wrong and what to do, in the reader's language. */
import type { Problem } from "@/lib/result";
import type { Words } from "./words";

type Saying = Pick<Words, "t" | "say">;

export const messageOf = ({ message, said }: Problem, { t, say }: Saying): string =>
  said?.message ? say(said.message) : t(message);

export const remedyOf = ({ remedy, said }: Problem, { t, say }: Saying): string =>
  said?.remedy ? say(said.remedy) : t(remedy);

/** Both, as a field shows them under itself. */
export const problemWords = (problem: Problem, words: Saying): string =>
  `${messageOf(problem, words)} ${remedyOf(problem, words)}`.trim();
