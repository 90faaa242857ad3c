/** Why the figures of a run hold no more. */
import type { Words } from "@/app/_ui/language/words";
import type { DataSince } from "@/db/queries/dataSince";
import type { StoredRisk } from "@/db/queries/risk";
import { changesText } from "../../plan/DataSinceNotice";

/** @param changes what the run does not know (`dataSinceRun`) */
export function outdatedWords(
  { isOutdated }: Pick<StoredRisk, "isOutdated">,
  changes: readonly DataSince[],
  words: Words,
): string | undefined {
  const { t } = words;
  if (isOutdated) return t("That was before the plan was changed by hand: work it out again.");
  if (changes.length === 0) return undefined;
  return t("Worked out before data changed ({{what}}): work it out again.", {
    what: changesText(changes, words),
  });
}
