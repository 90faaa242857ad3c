/** How surely a plan keeps its promises, against the plan in force: both run through drawn hours and past weather. */
import Link from "next/link";
import { homeToday } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { activeRiskJob } from "@/app/_server/riskAgain";
import { formatDate, formatNumber, formatShare, NO_VALUE } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { Db } from "@/db/open";
import type { PlanHead } from "@/db/queries/plans";
import { loadProgrammeState } from "@/db/queries/progress";
import { dataSinceRun, loadRisk, type StoredRisk } from "@/db/queries/risk";
import {
  missedPromises,
  type PromiseChange,
  promiseChanges,
  type Sureness,
  surenessOf,
} from "@/lib/programme";
import type { CalendarDate } from "@/lib/time";
import { AssessLine } from "../../programme/finish/AssessLine";
import { outdatedWords } from "../../programme/finish/outdatedWords";
import { dateOrLater } from "../../programme/finish/words";
import { Means } from "./Means";

const HOPS_SHOWN = 30;

export async function SurenessPanel({ db, head, other }: { db: Db; head: PlanHead; other?: PlanHead }) {
  const words = await serverWords();
  const { t } = words;
  const today = homeToday(db);
  const missed = missedPromises(loadProgrammeState(db, today).hops, today);
  const mine = loadRisk(db, head);
  const theirs = other && loadRisk(db, other);
  const theirAge = theirs && outdatedWords(theirs, dataSinceRun(db, theirs), words);
  const myAge = mine && outdatedWords(mine, dataSinceRun(db, mine), words);
  // Runs on other data or from another day differ by more than the plans do: no verdict then.
  const isFair = mine && theirs && !myAge && !theirAge && theirs.risk.asOf === mine.risk.asOf;
  const changes = isFair ? promiseChanges(theirs.risk, mine.risk) : [];
  return (
    <Panel
      title={t("How surely promises are kept")}
      note={isFair ? t("{{count}} promises surer or less sure", { count: changes.length }) : undefined}
      flush
    >
      <div className="px-4 pt-2">
        <AssessLine
          planId={head.id}
          words={myAge ?? ageWords(head, mine, today, words)}
          // The plan in force is worked out without its number as well.
          activeJobId={(activeRiskJob(db, head.id) ?? (other ? undefined : activeRiskJob(db)))?.id ?? null}
          isFirst={!mine}
        />
      </div>
      {mine ? (
        <Figures
          mine={surenessOf(mine.risk, missed)}
          theirs={theirs && surenessOf(theirs.risk, missed)}
          headId={head.id}
          otherId={other?.id}
          isFair={isFair === true}
        />
      ) : null}
      {other && mine && !theirs ? (
        <p className="px-4 py-2">
          {t("Plan {{plan}} has not been run yet.", { plan: String(other.id) })}{" "}
          <Link href="/programme/finish">{t("What drives the finish")}</Link>
        </p>
      ) : null}
      {theirs && mine && !isFair ? (
        <p className="px-4 py-2">
          {t("No verdict: the two plans were not run on the same data and day.")}{" "}
          {theirAge || theirs.risk.asOf !== mine.risk.asOf ? (
            <>
              {t("Plan {{plan}}", { plan: String(other!.id) })}:{" "}
              {theirAge ??
                t("run from {{day}} on, this one from {{own}} on.", {
                  day: formatDate(theirs.risk.asOf, "day", words.locale),
                  own: formatDate(mine.risk.asOf, "day", words.locale),
                })}{" "}
              <Link href="/programme/finish">{t("What drives the finish")}</Link>
            </>
          ) : null}
        </p>
      ) : null}
      {changes.length > 0 ? <Changes changes={changes} /> : null}
    </Panel>
  );
}

function ageWords(head: PlanHead, mine: StoredRisk | undefined, today: CalendarDate, words: Words): string {
  const { t, locale } = words;
  const plan = String(head.id);
  if (!mine) return t("Plan {{plan}} has not been run yet.", { plan });
  if (mine.risk.asOf !== today) return t("That was an earlier day: work it out again.");
  return t("Run {{runs}} times from {{day}} on through drawn hours of work and past weather.", {
    runs: formatNumber(mine.risk.runs, 0, locale),
    day: formatDate(mine.risk.asOf, "day", locale),
  });
}

interface FiguresProps {
  mine: Sureness;
  theirs?: Sureness;
  headId: number;
  otherId?: number;
  /** Both were run on the same data from the same day on. */
  isFair: boolean;
}

async function Figures({ mine, theirs, headId, otherId, isFair }: FiguresProps) {
  const words = await serverWords();
  const { t, locale } = words;
  const rows: { label: string; said: (s: Sureness) => string; worth: (s: Sureness) => number }[] = [
    {
      label: t("Finished in one run of two (P50)"),
      said: (s) => dateOrLater(s.p50On, words),
      worth: (s) => -dayWorth(s.p50On),
    },
    {
      label: t("Finished in four runs of five (P80)"),
      said: (s) => dateOrLater(s.p80On, words),
      worth: (s) => -dayWorth(s.p80On),
    },
    {
      label: t("Runs that keep every promise"),
      said: (s) => formatShare(s.allPromisesMetShare, 0, locale),
      worth: (s) => Math.round((s.allPromisesMetShare ?? 0) * 100),
    },
    {
      label: t("Promises kept in fewer than four runs of five"),
      said: (s) =>
        t("{{some}} of {{all}}", {
          some: formatNumber(s.unsureHops, 0, locale),
          all: formatNumber(s.promisedHops, 0, locale),
        }),
      worth: (s) => -s.unsureHops,
    },
  ];
  return (
    <ScrollRegion label={t("How surely promises are kept")}>
      <table className="ui-facts">
        <thead>
          <tr>
            <th scope="col">{t("Figure")}</th>
            {otherId === undefined ? null : (
              <th scope="col">{t("Plan {{plan}}", { plan: String(otherId) })}</th>
            )}
            <th scope="col">{t("Plan {{plan}}", { plan: String(headId) })}</th>
            {otherId === undefined ? null : <th scope="col">{t("Means")}</th>}
          </tr>
        </thead>
        <tbody>
          {rows.map(({ label, said, worth }) => (
            <tr key={label}>
              <th scope="row">{label}</th>
              {otherId === undefined ? null : <td>{theirs ? said(theirs) : NO_VALUE}</td>}
              <td>{said(mine)}</td>
              {otherId === undefined ? null : (
                <td>{theirs && isFair ? <Means gain={worth(mine) - worth(theirs)} /> : NO_VALUE}</td>
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

/** Days as a number; what was not finished within the runs' days comes after all of them. */
const dayWorth = (on: CalendarDate | undefined) => (on ? Date.parse(on) : Number.MAX_SAFE_INTEGER);

async function Changes({ changes }: { changes: readonly PromiseChange[] }) {
  const words = await serverWords();
  const { t, locale } = words;
  return (
    <ScrollRegion label={t("Promises that become surer or less sure")}>
      <table className="ui-facts">
        <thead>
          <tr>
            <th scope="col">{t("Hop")}</th>
            <th scope="col" data-align="end">
              {t("Kept in runs, was")}
            </th>
            <th scope="col" data-align="end">
              {t("Now")}
            </th>
            <th scope="col">{t("P80, was")}</th>
            <th scope="col">{t("P80, now")}</th>
            <th scope="col">{t("Means")}</th>
          </tr>
        </thead>
        <tbody>
          {changes.slice(0, HOPS_SHOWN).map((c) => (
            <tr key={c.hopCode}>
              <th scope="row">
                <Link href={`/hops/${encodeURIComponent(c.hopCode)}`}>{c.hopCode}</Link>
              </th>
              <td data-align="end">{formatShare(c.before, 0, locale)}</td>
              <td data-align="end">{formatShare(c.after, 0, locale)}</td>
              <td>{c.before === undefined ? NO_VALUE : dateOrLater(c.p80Before, words)}</td>
              <td>{c.after === undefined ? NO_VALUE : dateOrLater(c.p80After, words)}</td>
              <td>
                {c.before === undefined ? (
                  <StateMark state="warn">{t("finished for the first time, unsure")}</StateMark>
                ) : c.after === undefined ? (
                  <StateMark state="warn">{t("not to its end any more")}</StateMark>
                ) : (
                  <Means gain={c.after - c.before} />
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {changes.length > HOPS_SHOWN ? (
        <p className="px-4 py-2 text-quiet">
          {t("and {{more}} more", { more: changes.length - HOPS_SHOWN })}
        </p>
      ) : null}
    </ScrollRegion>
  );
}
