import Link from "next/link";
import { formatDate, formatInstant } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { StoredReading, StoredRevisit } from "@/db/queries/acceptance";
import { type Acceptance, type JudgedReading, type ReadingState, readingName } from "@/lib/acceptance";
import { ReadingForm } from "./ReadingForm";
import { WithdrawRevisit } from "./WithdrawRevisit";

const LOOK: Readonly<Record<ReadingState, { state: "done" | "fail" | "none"; word: string }>> = {
  passed: { state: "done", word: "Passed" },
  failed: { state: "fail", word: "Failed" },
  open: { state: "none", word: "Open" },
};

export interface AcceptanceTabProps {
  hopCode: string;
  acceptance: Acceptance;
  readings: readonly StoredReading[];
  revisits: readonly StoredRevisit[];
  /** Visit ids that were reported done. */
  done: ReadonlySet<string>;
  today: string;
  zone: string;
  mayChange: boolean;
}

/** What the hop is accepted by, how it stands, and what failed readings asked for. */
export function AcceptanceTab(props: AcceptanceTabProps) {
  const { hopCode, acceptance, readings, revisits, mayChange, today, zone } = props;
  return (
    <div className="grid gap-4">
      <StateNotice acceptance={acceptance} />
      <Panel
        title="Readings"
        note="The last reading of each counts. Limits stand under Rules, Acceptance; the customer's procedure comes first."
        flush
      >
        <ReadingTable readings={acceptance.readings} />
      </Panel>
      {revisits.length > 0 ? (
        <Panel title="Revisits" note="Each is planned with the next plan that is solved." flush>
          <RevisitTable {...props} />
        </Panel>
      ) : null}
      {mayChange ? (
        <Panel
          title="Enter readings"
          note="Crews send theirs with their report. Here: the error run, what came by phone, corrections."
        >
          <ReadingForm hopCode={hopCode} readings={acceptance.readings} today={today} />
        </Panel>
      ) : null}
      <Panel title="All readings taken" flush>
        {readings.length > 0 ? (
          <HistoryTable readings={readings} asked={acceptance.readings} zone={zone} />
        ) : (
          <p className="px-4 py-3">No reading has been taken yet.</p>
        )}
      </Panel>
    </div>
  );
}

function StateNotice({ acceptance }: { acceptance: Acceptance }) {
  const { state, readings, acceptedOn } = acceptance;
  const count = (s: ReadingState) => readings.filter((r) => r.state === s).length;
  if (state === "accepted") {
    return (
      <Notice kind="good" title={`Every reading passed, the last on ${formatDate(acceptedOn)}`}>
        The record below is what is handed over.
      </Notice>
    );
  }
  if (state === "failed") {
    return (
      <Notice kind="hold" title={`${count("failed")} of ${readings.length} readings failed`}>
        A failed reading opens a revisit, which the next plan places. Once it is mended, read it again.
      </Notice>
    );
  }
  return (
    <Notice kind="info" title={`${count("open")} of ${readings.length} readings are still open`}>
      The hop counts as done when all of them have passed.
    </Notice>
  );
}

function ReadingTable({ readings }: { readings: readonly JudgedReading[] }) {
  return (
    <ScrollRegion label="Readings of the hop">
      <table className="ui-facts">
        <thead>
          <tr>
            <th scope="col">Reading</th>
            <th scope="col">State</th>
            <th scope="col">Read, and its limit</th>
            <th scope="col">On</th>
          </tr>
        </thead>
        <tbody>
          {readings.map(({ asked, state, words, reading }) => (
            <tr key={asked.id}>
              <th scope="row">{readingName(asked)}</th>
              <td>
                <StateMark state={LOOK[state].state}>{LOOK[state].word}</StateMark>
              </td>
              <td>{words}</td>
              <td>{reading ? formatDate(reading.takenOn, "day") : ""}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

function RevisitTable({ revisits, done, mayChange }: AcceptanceTabProps) {
  const standing = (r: StoredRevisit) =>
    r.withdrawnAt !== null ? "withdrawn" : done.has(r.visitId) ? "done" : "open";
  return (
    <ScrollRegion label="Revisits of the hop">
      <table className="ui-facts">
        <thead>
          <tr>
            <th scope="col">Revisit</th>
            <th scope="col">State</th>
            <th scope="col">What for</th>
            {mayChange ? <th scope="col">Withdraw</th> : null}
          </tr>
        </thead>
        <tbody>
          {revisits.map((r) => (
            <tr key={r.visitId}>
              <th scope="row">
                {r.no}, {r.side} end{r.isJoint ? " with the other end" : ""}: {r.remedy}
              </th>
              <td>
                {standing(r) === "open" ? (
                  <StateMark state="under way">
                    <Link href={`/plan?visit=${encodeURIComponent(r.visitId)}`}>Open</Link>
                  </StateMark>
                ) : standing(r) === "done" ? (
                  <StateMark state="done">Done</StateMark>
                ) : (
                  <StateMark state="none">
                    Withdrawn by {r.withdrawnBy}: {r.withdrawnWhy}
                  </StateMark>
                )}
              </td>
              <td>{r.cause}</td>
              {mayChange ? (
                <td>
                  {standing(r) === "open" ? (
                    <WithdrawRevisit visitId={r.visitId} label={`revisit ${r.no}, ${r.side} end`} />
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

function HistoryTable({
  readings,
  asked,
  zone,
}: {
  readings: readonly StoredReading[];
  asked: readonly JudgedReading[];
  zone: string;
}) {
  const byId = new Map(asked.map((a) => [a.asked.id, a.asked]));
  const value = (r: StoredReading) => {
    const form = byId.get(r.askedId)?.form;
    if (r.passed !== null) return r.passed ? "yes" : "no";
    return `${r.value} ${typeof form === "object" ? form.figure : ""}`;
  };
  return (
    <ScrollRegion label="All readings taken">
      <table className="ui-facts">
        <thead>
          <tr>
            <th scope="col">Taken on</th>
            <th scope="col">Reading</th>
            <th scope="col">Figure</th>
            <th scope="col">Entered</th>
            <th scope="col">Note</th>
          </tr>
        </thead>
        <tbody>
          {readings.toReversed().map((r) => {
            const name = byId.get(r.askedId);
            return (
              <tr key={r.id}>
                <td>{formatDate(r.takenOn, "day")}</td>
                <th scope="row">{name ? readingName(name) : `${r.askedId} (not asked for any more)`}</th>
                <td>{value(r)}</td>
                <td>
                  {formatInstant(r.recordedAt, zone)} by {r.recordedBy}
                  {r.reportId === null ? "" : ", with a report"}
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
