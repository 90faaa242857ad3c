import Link from "next/link";
import { serverWords } from "@/app/_server/language";
import { formatDate } from "@/app/_ui/format";
import { checkText } from "@/app/_ui/language/checkText";
import type { Words } from "@/app/_ui/language/words";
import { Notice } from "@/app/_ui/Notice";
import type { SiteEnd } from "@/app/(work)/sites/[code]/desk";
import type { HopListRow, VisitView } from "@/db/queries/siteViews";
import { furtherHolds, stillPlanned } from "@/lib/programme";
import type { Gate } from "@/lib/site";
import { heldWords } from "../heldWords";

interface HoldsProps {
  row: HopListRow;
  gates: readonly Gate[];
  ends: readonly SiteEnd[];
}

/** That a hop is held, by all that holds it, and which of its visits stay planned all the same. */
export async function HeldNotice({
  row,
  gates,
  ends,
  visits,
  maySolve,
}: HoldsProps & { visits: readonly VisitView[]; maySolve: boolean }) {
  const words = await serverWords();
  const { t } = words;
  const planned = stillPlanned(visits);
  const isReported = visits.some((v) => v.outcome === "hold");
  const further = furtherHolds(row);
  return (
    <Notice
      kind="hold"
      title={
        <>
          {t("Held")}: {heldWords(row, words)}
        </>
      }
    >
      <p>
        {isReported
          ? t(
              "What is on hold stays open and keeps its place until the next plan gives it one anew. That plan lifts the hold; so does a report of the visit as done or part done, and whoever lifts it on the visit's page.",
            )
          : planned.length > 0
            ? t("No further visit of this hop is planned until this is lifted.")
            : t("No visit of this hop is planned until this is lifted.")}{" "}
        {isReported && further.gates + further.checks === 0
          ? null
          : t(
              "An open gate needs a date; a failed check needs the design data corrected with Change above, or brought in again.",
            )}{" "}
        {isReported && maySolve ? <Link href="/plan/solve">{t("Solve anew")}</Link> : null}
      </p>
      <AllHolds row={row} gates={gates} ends={ends} />
      {planned.length > 0 ? (
        <>
          <p>{t("What stays planned:")}</p>
          <ul>
            {planned.map((v) => (
              <li key={v.visitId}>
                <Link href={`/plan?visit=${encodeURIComponent(v.visitId)}`}>
                  {t("{{visit}}, {{when}}, crew {{crew}}", {
                    visit: `${t(`${v.side} end`)} ${t(v.kind)}`,
                    when: daysWords(v, words),
                    crew: v.crewCode ?? "",
                  })}
                </Link>
                {v.outcome === "hold" ? ` (${t("On hold")})` : null}
              </li>
            ))}
          </ul>
        </>
      ) : null}
    </Notice>
  );
}

/** One day by its name, several from the first to the last. */
function daysWords({ startOn, endOn }: Pick<VisitView, "startOn" | "endOn">, { t, locale }: Words): string {
  const from = formatDate(startOn, "weekday", locale);
  return endOn === startOn
    ? from
    : t("{{from}} to {{to}}", { from, to: formatDate(endOn, "weekday", locale) });
}

/** Every open gate and failed check, where the first reason is not all of it. */
export async function AllHolds({ row, gates, ends }: HoldsProps) {
  const words = await serverWords();
  const { t } = words;
  const further = furtherHolds(row);
  if (further.gates + further.checks === 0) return null;
  const [one] = ends;
  const checks = [
    ...(one?.hopTakeoff.checks ?? []).map((check) => ({ where: t("both ends"), check })),
    ...ends.flatMap((e) => e.takeoff.checks.map((check) => ({ where: t(`${e.side} end`), check }))),
  ].filter(({ check }) => check.state === "fail");
  return (
    <>
      <p>{t("Open gates and failed design checks, each to be lifted:")}</p>
      <ul>
        {gates
          .filter((g) => g.state === "open")
          .map((g) => (
            <li key={`${g.side} ${g.kind}`}>
              {t(g.side ? `${g.side} end` : "both ends")}:{" "}
              {t("open gate: {{gate}} ({{owner}}), no date", { gate: t(g.kind), owner: t(g.owner) })}
            </li>
          ))}
        {checks.map(({ where, check }) => (
          <li key={`${where} ${check.rule} ${check.where} ${check.message}`}>
            {where}: {checkText(check.message, words)}
          </li>
        ))}
      </ul>
    </>
  );
}
