/** Acceptance: which readings a hop asks for, whether they pass, and what a failed one asks for. */
export { judgeAcceptance } from "./acceptance";
export { ERROR_RUN, readingsAsked } from "./asked";
export { isLevelAboveZero, levelAboveZero, outOfBounds, READING_BOUNDS } from "./bounds";
export { lackingWords } from "./lacking";
export { DEFAULT_ACCEPTANCE_LIMITS } from "./limits";
export { READING_TEXTS } from "./readingTexts";
export { isStillWanted, type RemedyWanted, readingName, remediesFor, withoutRevisit } from "./remedies";
export type {
  Acceptance,
  AcceptanceLimits,
  AskedReading,
  JudgedReading,
  Reading,
  ReadingKind,
  ReadingState,
  Remedy,
} from "./types";
