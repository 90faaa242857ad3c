/** Of joint work: who is at the other end, and when. */
import { formatDate, NO_VALUE } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import type { VisitDesk } from "@/db/queries/visitDesk";

type End = Pick<VisitDesk["visit"], "startOn" | "startMin">;
type OtherEnd = End & Pick<VisitDesk["visit"], "siteCode" | "crewCode" | "endOn" | "endMin" | "isWithdrawn">;

/** The plan means both ends for the same hours, but a part reported by itself or a pin may have set them apart. */
export function otherEndWords(
  own: End,
  other: OtherEnd | undefined,
  doneOn: VisitDesk["otherEndDoneOn"],
  { t, locale, clock }: Pick<Words, "t" | "locale" | "clock">,
): string {
  const day = formatDate(doneOn, "full", locale);
  if (!other)
    return doneOn ? t("reported done on {{day}}", { day }) : t("not planned: call the rollout manager");
  const of = { crew: other.crewCode ?? NO_VALUE, site: other.siteCode };
  if (doneOn) return t("Crew {{crew}} at {{site}}, reported done on {{day}}", { ...of, day });
  if (other.isWithdrawn) return t("withdrawn: nobody goes there for it");
  if (other.startOn === own.startOn && other.startMin === own.startMin)
    return t("Crew {{crew}} at {{site}}, same hours", of);
  return t("Crew {{crew}} at {{site}}, at other hours: {{from}} to {{to}}", {
    ...of,
    from: `${formatDate(other.startOn, "full", locale)}, ${clock(other.startMin)}`,
    to: `${other.endOn === other.startOn ? "" : `${formatDate(other.endOn, "full", locale)}, `}${clock(other.endMin)}`,
  });
}
