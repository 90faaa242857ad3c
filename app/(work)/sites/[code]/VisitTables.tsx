import Link from "next/link";
import { homeToday } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { formatDate, formatDuration, formatQuantity } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark, Tag } from "@/app/_ui/StateMark";
import { hopPath, OUTCOME_STATE, sitePath } from "@/app/(work)/hops/hopStates";
import { kitStateWords } from "@/app/(work)/kits/kitStateWords";
import { whyWords } from "@/app/(work)/plan/why";
import { kitPath } from "@/app/(work)/stock/words";
import { database } from "@/db/open";
import type { HopReport, VisitView } from "@/db/queries/siteViews";

/** Visits of the plan in force with crew, time and kit; what stops those that have none. */
export async function VisitTable({ visits }: { visits: readonly VisitView[] }) {
  const words = await serverWords();
  const { t, locale, clock } = words;
  return (
    <ScrollRegion label={t("Visits of the plan in force")} className="max-md:px-4">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">{t("Visit")}</th>
            <th scope="col">{t("Site")}</th>
            <th scope="col">{t("When")}</th>
            <th scope="col">{t("Crew")}</th>
            <th scope="col">{t("Work")}</th>
            <th scope="col">{t("State")}</th>
            <th scope="col">{t("Kit")}</th>
          </tr>
        </thead>
        <tbody>
          {visits.map((v) => (
            <tr key={v.visitId}>
              <th data-label={t("Visit")} scope="row">
                <span>
                  <Link href={hopPath(v.hopCode)}>{v.hopCode}</Link> {t(v.side)} {t(v.kind)}
                </span>
              </th>
              <td data-label={t("Site")}>
                <Link href={sitePath(v.siteCode)}>{v.siteCode}</Link>
              </td>
              <td data-label={t("When")}>
                {v.startOn && v.endOn ? (
                  <span>
                    <Link href={`/plan?visit=${encodeURIComponent(v.visitId)}`}>
                      {t("{{from}} to {{to}}", {
                        from: `${formatDate(v.startOn, "weekday", locale)} ${clock(v.startMin)}`,
                        to: `${v.endOn === v.startOn ? "" : `${formatDate(v.endOn, "weekday", locale)} `}${clock(v.endMin)}`,
                      })}
                    </Link>{" "}
                    {v.isPinned ? <StateMark state="pinned" /> : null}
                  </span>
                ) : (
                  <StateMark state="unplaced" isFreeText>
                    {t("Not placed")}:{" "}
                    {v.unplacedReason ? whyWords(v.unplacedReason, words) : t("no reason kept")}
                  </StateMark>
                )}
              </td>
              <td data-label={t("Crew")}>{v.crewCode ? `${v.crewCode} ${v.crewName ?? ""}` : "–"}</td>
              <td data-label={t("Work")}>{formatDuration(v.durationMin, locale)}</td>
              <td data-label={t("State")}>
                <StateCell visit={v} />
              </td>
              <td data-label={t("Kit")}>
                <KitCell visit={v} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

/** What the crew said of it last; still to come when nothing was reported. */
async function StateCell({ visit: { outcome, doneOn, startOn, endOn } }: { visit: VisitView }) {
  const { t, locale } = await serverWords();
  const today = homeToday(database());
  if (outcome === null && endOn !== null && endOn < today)
    return <StateMark state="warn">{t("over by the plan, not reported")}</StateMark>;
  if (outcome === null && startOn !== null && startOn < today)
    return <StateMark state="under way">{t("under way by the plan")}</StateMark>;
  if (outcome === null) return <>{t("to come")}</>;
  if (outcome === "withdrawn")
    return <StateMark state="none">{t("withdrawn: not needed any more")}</StateMark>;
  if (outcome === "planned again") return <>{t("to come, planned again after a hold")}</>;
  return (
    <StateMark state={OUTCOME_STATE[outcome].state}>
      {doneOn
        ? t("done on {{day}}", { day: formatDate(doneOn, "weekday", locale) })
        : t(OUTCOME_STATE[outcome].word)}
    </StateMark>
  );
}

async function KitCell({ visit }: { visit: VisitView }) {
  const { t, locale } = await serverWords();
  if (visit.outcome === "withdrawn" && visit.kitState === "planned") return <>{t("not needed any more")}</>;
  if (!visit.kitState && visit.kind === "install")
    return <>{visit.outcome === "done" ? t("no kit issued by the books") : t("no kit planned")}</>;
  if (!visit.kitState) return <>{t("no material")}</>;
  if (visit.outcome === "done" && visit.kitState !== "issued")
    return <Link href={kitPath(visit.visitId)}>{t("no kit issued by the books")}</Link>;
  return (
    <span>
      <Link href={kitPath(visit.visitId)}>
        {t("{{state}}, pick {{day}}, {{mass}}", {
          state: kitStateWords({ ...visit, state: visit.kitState }, t),
          day: formatDate(visit.kitPickOn, "day", locale),
          mass: formatQuantity(visit.kitMassKg, "kg", 0, locale),
        })}
      </Link>{" "}
      {visit.shortLines > 0 && visit.outcome !== "withdrawn" ? (
        <StateMark state="short">{t("{{short}} short", { short: visit.shortLines })}</StateMark>
      ) : null}
    </span>
  );
}

/** "KRA-012 near install": a visit by the parts of its id. */
const visitName = (visitId: string, { t }: Words): string =>
  visitId
    .split("/")
    .map((part) => t(part))
    .join(" ");

/** Reports from the field, newest first. */
export async function ReportTable({ reports }: { reports: readonly HopReport[] }) {
  const words = await serverWords();
  const { t, locale } = words;
  return (
    <ScrollRegion label={t("Reports from the field")} className="max-md:px-4">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">{t("Day")}</th>
            <th scope="col">{t("Visit")}</th>
            <th scope="col">{t("Outcome")}</th>
            <th scope="col">{t("Crew")}</th>
            <th scope="col">{t("Worked")}</th>
            <th scope="col">{t("Note")}</th>
          </tr>
        </thead>
        <tbody>
          {reports.map((r) => (
            <tr key={r.id}>
              <th data-label={t("Day")} scope="row">
                {formatDate(r.workedOn, "full", locale)}
              </th>
              <td data-label={t("Visit")}>{visitName(r.visitId, words)}</td>
              <td data-label={t("Outcome")}>
                <StateMark state={OUTCOME_STATE[r.outcome].state}>
                  {t(OUTCOME_STATE[r.outcome].word)}
                </StateMark>
                {r.isOver ? (
                  <small className="block">
                    {r.liftedAt === null
                      ? t("over: planned again or reported since")
                      : t("lifted by {{name}}: {{why}}", { name: r.liftedBy ?? "", why: r.liftedWhy ?? "" })}
                  </small>
                ) : null}
              </td>
              <td data-label={t("Crew")}>
                <Tag>{r.crewCode}</Tag>
              </td>
              <td data-label={t("Worked")}>
                {formatDuration(r.workedMin, locale)}
                {r.leftMin !== null
                  ? `, ${t("{{time}} left", { time: formatDuration(r.leftMin, locale) })}`
                  : ""}
              </td>
              <td data-label={t("Note")} className="min-w-56">
                {[r.holdReason, r.note].filter(Boolean).join(": ") || "–"}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
