import Link from "next/link";
import { serverWords } from "@/app/_server/language";
import { formatDate, formatInstant, formatNumber } from "@/app/_ui/format";
import { readingText } from "@/app/_ui/language/readingText";
import { Notice } from "@/app/_ui/Notice";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import { CORRECTED_WHY, type StoredReading, type StoredRevisit } from "@/db/queries/acceptance";
import type { VisitView } from "@/db/queries/siteViews";
import {
  type Acceptance,
  isStillWanted,
  type JudgedReading,
  type ReadingState,
  withoutRevisit,
} from "@/lib/acceptance";
import { sayReading } from "../sayReading";
import { OpenRevisit } from "./OpenRevisit";
import { ReadingForm } from "./ReadingForm";
import { WithdrawRevisit } from "./WithdrawRevisit";

/** Said in the reader's language. */
const LOOK: Readonly<Record<ReadingState, { state: "done" | "fail" | "none"; word: string }>> = {
  passed: { state: "done", word: "Passed" },
  failed: { state: "fail", word: "Failed" },
  open: { state: "none", word: "Open" },
};

export interface AcceptanceTabProps {
  hopCode: string;
  /** Are both ends of the hop aligned at once? */
  isJoint: boolean;
  acceptance: Acceptance;
  readings: readonly StoredReading[];
  revisits: readonly StoredRevisit[];
  /** Visit ids that were reported done. */
  done: ReadonlySet<string>;
  /** Of the plan in force. */
  visits: readonly VisitView[];
  today: string;
  zone: string;
  mayChange: boolean;
}

/** What the hop is accepted by, how it stands, and what failed readings asked for. */
export async function AcceptanceTab(props: AcceptanceTabProps) {
  const { t } = await serverWords();
  const { hopCode, acceptance, readings, revisits, mayChange, today, zone } = props;
  const open = revisits.filter((r) => r.withdrawnAt === null && !props.done.has(r.visitId));
  const unserved = new Set(withoutRevisit(acceptance.readings, open, props.isJoint).map((r) => r.asked.id));
  return (
    <div className="grid gap-4">
      <StateNotice acceptance={acceptance} unserved={unserved.size} mayChange={mayChange} />
      <Panel
        title={t("Readings")}
        note={t(
          "The last reading of each counts. Limits stand under Rules, Acceptance; the customer's procedure comes first.",
        )}
        flush
      >
        <ReadingTable
          hopCode={hopCode}
          readings={acceptance.readings}
          unserved={unserved}
          mayChange={mayChange}
        />
      </Panel>
      {revisits.length > 0 ? (
        <Panel
          title={t("Revisits")}
          note={t("The next plan that is solved places those without a day.")}
          flush
        >
          <RevisitTable {...props} />
        </Panel>
      ) : null}
      {mayChange ? (
        <Panel
          title={t("Enter readings")}
          note={t(
            "Crews send theirs with their report. Here: the error run, what came by phone, corrections.",
          )}
        >
          <ReadingForm hopCode={hopCode} readings={acceptance.readings} today={today} />
        </Panel>
      ) : null}
      <Panel title={t("All readings taken")} flush>
        {readings.length > 0 ? (
          <HistoryTable readings={readings} asked={acceptance.readings} zone={zone} />
        ) : (
          <p className="px-4 py-3">{t("No reading has been taken yet.")}</p>
        )}
      </Panel>
    </div>
  );
}

async function StateNotice({
  acceptance,
  unserved,
  mayChange,
}: {
  acceptance: Acceptance;
  /** Failed readings without an open revisit. */
  unserved: number;
  mayChange: boolean;
}) {
  const { locale, t } = await serverWords();
  const { state, readings, acceptedOn } = acceptance;
  const count = (s: ReadingState) => readings.filter((r) => r.state === s).length;
  if (state === "accepted") {
    return (
      <Notice
        kind="good"
        title={t("Every reading passed, the last on {{day}}", {
          day: formatDate(acceptedOn, "full", locale),
        })}
      >
        {t("The record below is what is handed over.")}
      </Notice>
    );
  }
  if (state === "failed") {
    return (
      <Notice
        kind="hold"
        title={t("{{count}} of {{all}} readings failed", {
          count: count("failed"),
          all: readings.length,
        })}
      >
        {unserved === 0
          ? t(
              "A failed reading opens a revisit, which the next plan places. Once it is mended, read it again.",
            )
          : [
              t("For {{count}} of them no revisit is open, and no plan places one.", { count: unserved }),
              mayChange
                ? t("If it is mended, enter the reading taken again; if not, open another revisit.")
                : t("If it is mended, the reading is taken again; if not, a manager opens another revisit."),
            ].join(" ")}
      </Notice>
    );
  }
  return (
    <Notice
      kind="info"
      title={t("{{count}} of {{all}} readings are still open", {
        count: count("open"),
        all: readings.length,
      })}
    >
      {t("The hop counts as done when all of them have passed.")}
    </Notice>
  );
}

async function ReadingTable({
  hopCode,
  readings,
  unserved,
  mayChange,
}: {
  hopCode: string;
  readings: readonly JudgedReading[];
  /** Asked ids of failed ones without an open revisit. */
  unserved: ReadonlySet<string>;
  mayChange: boolean;
}) {
  const words = await serverWords();
  const { t, locale } = words;
  return (
    <ScrollRegion label={t("Readings of the hop")}>
      <table className="ui-facts">
        <thead>
          <tr>
            <th scope="col">{t("Reading")}</th>
            <th scope="col">{t("State")}</th>
            <th scope="col">{t("Read, and its limit")}</th>
            <th scope="col">{t("On (a day)")}</th>
          </tr>
        </thead>
        <tbody>
          {readings.map(({ asked, state, words: said, reading }) => (
            <tr key={asked.id}>
              <th scope="row">{sayReading(asked, words)}</th>
              <td>
                <StateMark state={LOOK[state].state}>{t(LOOK[state].word)}</StateMark>
                {unserved.has(asked.id) ? (
                  <div className="grid justify-items-start gap-1">
                    <small>{t("No revisit is open for it.")}</small>
                    {mayChange ? (
                      <OpenRevisit hopCode={hopCode} askedId={asked.id} label={sayReading(asked, words)} />
                    ) : null}
                  </div>
                ) : null}
              </td>
              <td>{readingText(said, words)}</td>
              <td>{reading ? formatDate(reading.takenOn, "day", locale) : ""}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

async function RevisitTable({ acceptance, readings, revisits, done, visits, mayChange }: AcceptanceTabProps) {
  const words = await serverWords();
  const { t, locale } = words;
  const dayOf = new Map(visits.map((v) => [v.visitId, v.startOn]));
  const standing = (r: StoredRevisit) =>
    done.has(r.visitId) ? "done" : r.withdrawnAt !== null ? "withdrawn" : "open";
  const doneWords = (r: StoredRevisit) => {
    const failing = acceptance.readings.filter((x) => isStillWanted(r, [x]));
    if (failing.length === 0) return t("Done");
    const isReadAgain = failing.some((x) =>
      readings.some((s) => s.askedId === x.asked.id && s.recordedAt > r.openedAt),
    );
    return isReadAgain ? t("Done, and failed again since") : t("Done, reading not taken again");
  };
  return (
    <ScrollRegion label={t("Revisits of the hop")}>
      <table className="ui-facts">
        <thead>
          <tr>
            <th scope="col">{t("Revisit")}</th>
            <th scope="col">{t("State")}</th>
            <th scope="col">{t("What for")}</th>
            {mayChange ? <th scope="col">{t("Withdraw")}</th> : null}
          </tr>
        </thead>
        <tbody>
          {revisits.map((r) => (
            <tr key={r.visitId}>
              <th scope="row">
                {r.no}, {t(`${r.side} end`)}
                {r.isJoint ? ` ${t("with the other end")}` : ""}: {t(r.remedy)}
              </th>
              <td>
                {standing(r) === "open" ? (
                  <StateMark state="under way">
                    {dayOf.get(r.visitId) ? (
                      <Link href={`/plan?visit=${encodeURIComponent(r.visitId)}`}>
                        {t("Open, planned for {{day}}", {
                          day: formatDate(dayOf.get(r.visitId), "full", locale),
                        })}
                      </Link>
                    ) : (
                      t("Open, not planned yet")
                    )}
                  </StateMark>
                ) : standing(r) === "done" ? (
                  <StateMark state="done">{doneWords(r)}</StateMark>
                ) : (
                  <StateMark state="none">
                    {t("Withdrawn by {{name}}: {{why}}", {
                      name: r.withdrawnBy ?? "",
                      why:
                        r.withdrawnWhy === CORRECTED_WHY
                          ? t("The reading was sent again and passes.")
                          : (r.withdrawnWhy ?? ""),
                    })}
                  </StateMark>
                )}
              </td>
              <td>
                {readingText(r.cause, words)}
                {standing(r) === "open" && !isStillWanted(r, acceptance.readings) ? (
                  <small className="block">
                    {t("No reading asks for it any more: a manager withdraws it when it is not needed.")}
                  </small>
                ) : null}
              </td>
              {mayChange ? (
                <td>
                  {standing(r) === "open" ? (
                    <WithdrawRevisit
                      visitId={r.visitId}
                      isPlanned={dayOf.has(r.visitId)}
                      label={t("revisit {{no}}, {{end}}", { no: r.no, end: t(`${r.side} end`) })}
                    />
                  ) : null}
                </td>
              ) : null}
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

async function HistoryTable({
  readings,
  asked,
  zone,
}: {
  readings: readonly StoredReading[];
  asked: readonly JudgedReading[];
  zone: string;
}) {
  const words = await serverWords();
  const { t, locale } = words;
  const byId = new Map(asked.map((a) => [a.asked.id, a.asked]));
  const corrected = new Set(readings.map((r) => r.correctsId));
  const value = (r: StoredReading) => {
    const form = byId.get(r.askedId)?.form;
    if (r.passed !== null) return r.passed ? t("yes") : t("no");
    return `${formatNumber(r.value, 6, locale)} ${typeof form === "object" ? form.figure : ""}`;
  };
  return (
    <ScrollRegion label={t("All readings taken")}>
      <table className="ui-facts">
        <thead>
          <tr>
            <th scope="col">{t("Taken on")}</th>
            <th scope="col">{t("Reading")}</th>
            <th scope="col">{t("Figure")}</th>
            <th scope="col">{t("Entered")}</th>
            <th scope="col">{t("Note")}</th>
          </tr>
        </thead>
        <tbody>
          {readings.toReversed().map((r) => {
            const name = byId.get(r.askedId);
            return (
              <tr key={r.id}>
                <td>{formatDate(r.takenOn, "day", locale)}</td>
                <th scope="row">
                  {name
                    ? sayReading(name, words)
                    : t("{{reading}} (not asked for any more)", { reading: r.askedId })}
                </th>
                <td>
                  {value(r)}
                  {corrected.has(r.id) ? (
                    <small className="block">{t("Entered wrongly: counts no more")}</small>
                  ) : null}
                </td>
                <td>
                  {t("{{when}} by {{name}}", {
                    when: formatInstant(r.recordedAt, zone, locale),
                    name: r.recordedBy,
                  })}
                  {r.reportId === null ? "" : `, ${t("with a report")}`}
                </td>
                <td>{r.note}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
