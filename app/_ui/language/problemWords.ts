/** What is wrong and what to do, in the reader's language. */
import type { Problem } from "@/lib/result";
import type { Words } from "./words";

/** What is said of a problem, wherever it was. */
type Told = Pick<Problem, "message" | "remedy" | "said">;

type Saying = Pick<Words, "t" | "say">;

export const messageOf = ({ message, said }: Told, { t, say }: Saying): string =>
  said?.message ? say(said.message) : t(message);

export const remedyOf = ({ remedy, said }: Told, { t, say }: Saying): string =>
  said?.remedy ? say(said.remedy) : t(remedy);

/** Both, as a field shows them under itself. */
export const problemWords = (problem: Told, words: Saying): string =>
  `${messageOf(problem, words)} ${remedyOf(problem, words)}`.trim();
