import { readingName } from "./remedies";
import type { Acceptance } from "./types";

/** More than so many missing readings are counted, not named. */
const NAMED = 3;

/** What failed, or else what is missing. */
export function lackingWords({ readings }: Acceptance): string {
  const failed = readings.filter((r) => r.state === "failed");
  if (failed.length > 0) return failed.map((r) => `${readingName(r.asked)} failed`).join("; ");
  const open = readings.filter((r) => r.state === "open").map((r) => readingName(r.asked));
  if (open.length === 0) return "";
  const more = open.length > NAMED ? [`${open.length - NAMED} more`] : [];
  return `missing: ${[...open.slice(0, NAMED), ...more].join("; ")}`;
}
