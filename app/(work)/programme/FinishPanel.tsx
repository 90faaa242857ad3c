import Link from "next/link";
import { serverWords } from "@/app/_server/language";
import { formatDate, formatShare } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { Stat, StatRow } from "@/app/_ui/Stat";
import { type HopProgress, missedPromises, type RiskByName, surenessOf } from "@/lib/programme";
import type { CalendarDate } from "@/lib/time";
import { hopPath } from "../hops/hopStates";
import { lastPromise } from "./finish/words";
import { OutdatedLine } from "./OutdatedLine";

/** Promise, plan, P50 and P80 of the whole programme, and the way to what drives them. */
export async function FinishPanel({
  risk,
  hops,
  today,
  outdated,
}: {
  risk?: RiskByName;
  hops: readonly HopProgress[];
  today: CalendarDate;
  /** Why the run's figures hold no more. */
  outdated?: string;
}) {
  const { t, locale } = await serverWords();
  const promised = lastPromise(hops);
  const missed = missedPromises(hops, today);
  const finish = risk?.programme;
  return (
    <Panel
      title={t("When it is finished")}
      note={t("P50: by then in one run of two; P80: in four of five.")}
      actions={<Link href="/programme/finish">{t("What drives the finish")}</Link>}
      foot={
        risk
          ? t(
              "The plan in force run {{count}} times from {{day}} on, its order kept; only hops with every visit placed.",
              { count: risk.runs, day: formatDate(risk.asOf, "full", locale) },
            )
          : undefined
      }
    >
      {finish ? (
        <>
          {outdated ? <OutdatedLine why={outdated} className="mb-2" /> : null}
          <StatRow>
            <Stat label={t("Last promise")} figure={formatDate(promised, "day", locale)} />
            <Stat
              label={t("Planned")}
              figure={formatDate(finish.plannedOn, "day", locale)}
              limit={t("last placed visit")}
            />
            <Stat label="P50" figure={formatDate(finish.p50On, "day", locale)} limit={t("one run of two")} />
            <Stat
              label="P80"
              figure={finish.p80On ? formatDate(finish.p80On, "day", locale) : "later"}
              limit={
                finish.p80On
                  ? t("four runs of five")
                  : t("than {{day}}", { day: formatDate(risk.followedTo, "day", locale) })
              }
            />
            <Stat
              label="P90"
              figure={finish.p90On ? formatDate(finish.p90On, "day", locale) : "later"}
              limit={t("nine runs of ten")}
            />
            <Stat
              label={t("All promises kept")}
              figure={formatShare(surenessOf(risk, missed).allPromisesMetShare, 0, locale)}
              limit={t("of runs")}
            />
          </StatRow>
          <NeverKept hops={hops} missed={missed} />
          <LeastSure hops={hops} />
        </>
      ) : (
        <p>
          {t("The plan in force has not been run through hours and weather yet.")}{" "}
          <Link href="/programme/finish">{t("Work out how sure it is")}</Link>.
        </p>
      )}
    </Panel>
  );
}

/** One promise that no run keeps brings the share of all promises to nought: which ones these are. */
async function NeverKept({ hops, missed }: { hops: readonly HopProgress[]; missed: ReadonlySet<string> }) {
  const { t } = await serverWords();
  const never = hops.filter((h) => h.state !== "done" && h.promiseMetShare === 0);
  if (never.length === 0) return null;
  return (
    <p className="mt-2">
      {t("No run keeps the promise of")}{" "}
      {never.slice(0, SHOWN).map((h, at) => (
        <span key={h.hopCode}>
          {at > 0 ? ", " : ""}
          <Link href={hopPath(h.hopCode)}>{h.hopCode}</Link>
          {missed.has(h.hopCode)
            ? ` (${t("its promise has passed")})`
            : (h.daysLate ?? 0) > 0
              ? ` (${t("late by plan already")})`
              : ""}
        </span>
      ))}
      {never.length > SHOWN ? ` ${t("and {{more}} more", { more: never.length - SHOWN })}` : ""}
    </p>
  );
}

const SHOWN = 8;

/** The hops whose promise is met in the fewest runs; all of them stand on the page behind the link. */
async function LeastSure({ hops }: { hops: readonly HopProgress[] }) {
  const { t, locale } = await serverWords();
  const simulated = hops
    .filter((h) => h.p50On !== undefined || h.promiseMetShare !== undefined)
    .sort(
      (a, b) =>
        (a.promiseMetShare ?? 2) - (b.promiseMetShare ?? 2) ||
        (a.promisedOn ?? "9").localeCompare(b.promisedOn ?? "9") ||
        a.hopCode.localeCompare(b.hopCode),
    );
  return (
    <>
      <ScrollRegion label={t("Finish of the hops least sure of their promise")} className="mt-4">
        <table className="ui-facts">
          <thead>
            <tr>
              <th scope="col">{t("Hop")}</th>
              <th scope="col">{t("Promised")}</th>
              <th scope="col">{t("Planned")}</th>
              <th scope="col">P50</th>
              <th scope="col">P80</th>
              <th scope="col">{t("Promise met")}</th>
            </tr>
          </thead>
          <tbody>
            {simulated.slice(0, SHOWN).map((h) => (
              <tr key={h.hopCode}>
                <th scope="row">
                  <Link href={hopPath(h.hopCode)}>{h.hopCode}</Link>
                </th>
                <td>{formatDate(h.promisedOn, "day", locale)}</td>
                <td>{formatDate(h.plannedOn, "day", locale)}</td>
                <td>{formatDate(h.p50On, "day", locale)}</td>
                <td>{formatDate(h.p80On, "day", locale)}</td>
                <td>{formatShare(h.promiseMetShare, 0, locale)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
      {simulated.length > SHOWN ? (
        <p className="py-2">
          <Link href="/programme/finish?by=hops">
            {t("{{count}} more hops, surer of their promise", { count: simulated.length - SHOWN })}
          </Link>
        </p>
      ) : null}
    </>
  );
}
