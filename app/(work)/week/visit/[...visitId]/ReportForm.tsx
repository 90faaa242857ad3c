"use client";

import { useRouter } from "next/navigation";
import { type FormEvent, useEffect, useRef, useState } from "react";
import { newKey } from "@/app/_client/newKey";
import { reportDraft } from "@/app/_client/outbox/send";
import type { WaitingReport } from "@/app/_client/outbox/store";
import { useOutbox } from "@/app/_client/outbox/useOutbox";
import { releasePhotos } from "@/app/_client/photos/store";
import { useDraft } from "@/app/_client/useDraft";
import { Button } from "@/app/_ui/Button";
import { Disclosure } from "@/app/_ui/Disclosure";
import { DateInput, NumberInput, Select, TextArea, TextInput } from "@/app/_ui/Field";
import { formatNumber } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import type { Words } from "@/app/_ui/language/words";
import { Notice } from "@/app/_ui/Notice";
import { ProblemList } from "@/app/_ui/ProblemList";
import { impossibleReadings } from "@/app/(work)/hops/impossibleReadings";
import { ReadingFields } from "@/app/(work)/hops/ReadingFields";
import { readingsFrom } from "@/app/(work)/hops/readings";
import type { ReportTaken } from "@/db/queries/visitReport";
import type { JudgedReading } from "@/lib/acceptance";
import type { PartMinutes } from "@/lib/calibration";
import {
  type DoubtedReport,
  type ReportDoubt,
  reportDoubts,
  type UseKnown,
  type VisitKnown,
} from "@/lib/programme";
import type { Problem } from "@/lib/result";
import { type CalendarDate, localOf } from "@/lib/time";
import { OutboxPanel } from "../../OutboxPanel";
import { reportFieldName } from "../../reportFields";
import { type FaultChoice, FaultFields, faultsFrom } from "./FaultFields";
import { HungFields, type HungRadio, hungFrom } from "./HungFields";
import { linesWords, MISSING_WORDS, materialWords } from "./materialWords";

export interface ReportLine {
  itemCode: string;
  name: string;
  runId: string | null;
  drumSerial: string | null;
  needed: number;
  /** What of it a visit probably uses up. */
  planned: number;
  /** The kit was issued without it, it was lost after that, or the vehicle that should have it opened has none. */
  missing?: keyof typeof MISSING_WORDS;
  /** Nothing of it was in the box: what the vehicle has opened is used. */
  isOpened: boolean;
  isMetres: boolean;
  /** Nobody uses a part of one, as of a roll or a tube. */
  isInPieces: boolean;
  /** As it was reported, when the visit was reported done: a correction begins with it. */
  reported?: { used: number; left: number };
  /** What other reports of the visit used of it. */
  usedBefore: number;
}

const OUTCOMES = [
  { value: "done", label: "Done" },
  { value: "part done", label: "Part done, we come back" },
  { value: "hold", label: "On hold" },
];

interface Asked {
  /** Readings not taken. */
  untaken: number;
  doubts: readonly ReportDoubt[];
  /** That the doubts name. */
  faults: ReturnType<typeof faultsFrom>;
}

const NOTHING_ASKED: Asked = { untaken: 0, doubts: [], faults: [] };
const isQuestion = ({ untaken, doubts }: Asked): boolean => untaken > 0 || doubts.length > 0;

/** What was answered: the minute that passes between two presses makes no other question of it. */
const gistOf = ({ untaken, doubts }: Asked): string =>
  JSON.stringify([untaken, ...doubts.map((d) => [d.path, d.value, d.words.text])]);

/** Of the crew, and how far the programme's clock is behind this phone's: the demonstration has its own day. */
interface CrewClock {
  zone: string;
  behindMillis: number;
}

/**
 * Hours, use and leftovers, or a hold with its reason. A report is kept on the phone first and sent from there
 * (app/_client/outbox); what is typed but not sent outlives the page as a draft.
 */
export function ReportForm({
  visitId,
  label,
  userId,
  lastSeenReportId,
  today,
  known,
  clock,
  readings,
  tasks,
  lines,
  isKitOnShelf,
  units,
  radios,
  last,
}: {
  visitId: string;
  /** For the list of what waits: site and visit. */
  label: string;
  userId: string;
  /** The last report of this visit that the page shows; 0 = none. */
  lastSeenReportId: number;
  today: string;
  /** What the report is held against before it is sent. */
  known: VisitKnown;
  clock: CrewClock;
  /** Acceptance readings to take on this visit. */
  readings: readonly JudgedReading[];
  /** Tasks that a crew may have timed. */
  tasks: readonly PartMinutes[];
  lines: readonly ReportLine[];
  /** It has a kit that was never issued by the books. */
  isKitOnShelf: boolean;
  /** What may be found faulty: the pieces of the kit. */
  units: readonly FaultChoice[];
  /** Radios of the end, on a visit that hangs some, with the serial that is known. */
  radios: readonly HungRadio[];
  /** The report that says done: what is sent now stands in its place, or comes on top of it. */
  last?: { workedMin: number; workedOn: string; note: string };
}) {
  const router = useRouter();
  const { t, say, locale } = useWords();
  const outbox = useOutbox(userId);
  const form = useRef<HTMLFormElement>(null);
  const [outcome, setOutcome] = useState("done");
  const [place, setPlace] = useState("instead");
  const isOnTop = last !== undefined && place === "on top";
  const corrected = isOnTop ? undefined : last;
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [sent, setSent] = useState<string>();
  /** What the person was asked about before it is sent: readings not taken, what is doubtful. */
  const [asked, setAsked] = useState<Asked>(NOTHING_ASKED);
  const draft = useDraft(reportDraft(userId, visitId), form, (values) => {
    setOutcome(values.outcome ?? "done");
    setPlace(values.place ?? "instead");
  });

  const answer = sent === undefined ? undefined : outbox.arrived.get(sent);
  useEffect(() => {
    if (answer) router.refresh();
  }, [answer, router]);

  async function send(event: FormEvent<HTMLFormElement>) {
    event.preventDefault();
    const data = new FormData(event.currentTarget);
    const body = reportOf(data, { visitId, outcome, readings, tasks, lines, radios });
    const impossible = impossibleReadings(
      body.readings,
      readings.map((r) => r.asked),
    );
    setProblems(impossible);
    if (impossible.length > 0) {
      setAsked(NOTHING_ASKED);
      return;
    }
    const given = body.readings.map((r) => r.askedId);
    // What passed before need not be read again.
    const missing = readings.filter((r) => r.state !== "passed" && !given.includes(r.asked.id)).length;
    const writtenAtMillis = Date.now();
    const doubts = reportDoubts(
      { ...body, written: writtenOf(writtenAtMillis, clock) },
      knownHere(known, outbox.reports ?? [], isOnTop ? lines : []),
    );
    const question: Asked = {
      untaken: outcome === "done" && !isOnTop ? missing : 0,
      doubts,
      faults: body.faults,
    };
    if (isQuestion(question) && gistOf(question) !== gistOf(asked)) {
      setAsked(question);
      return;
    }
    const before = sent;
    try {
      setSent(undefined);
      // Whatever becomes of them, the report must not wait for its photos.
      await releasePhotos(userId, visitId).catch(() => undefined);
      const report = {
        key: newKey(),
        userId,
        visitId,
        label,
        writtenAtMillis,
        report: {
          ...body,
          ...(doubts.length > 0 ? { sureOf: doubts.map((d) => d.path) } : null),
          ...(isOnTop ? { isOnTop } : null),
          lastSeenReportId,
        },
      };
      setSent(await outbox.add(report, before));
      setProblems([]);
      setAsked(NOTHING_ASKED);
    } catch {
      setProblems([
        {
          path: "report",
          rule: "not-kept",
          message: t("This browser does not let the page keep the report on the phone."),
          remedy: t("Leave private browsing or free some space, then press Send report again."),
        },
      ]);
    }
  }

  return (
    <form ref={form} onSubmit={send} onInput={draft.keep} className="grid gap-3">
      {last ? (
        <Select
          label={t("This report")}
          name="place"
          value={place}
          onChange={(event) => setPlace(event.target.value)}
          choices={[
            { value: "instead", label: t("stands in place of the last") },
            { value: "on top", label: t("comes on top: we went again") },
          ]}
          hint={
            isOnTop
              ? t("What was reported stays; hours and material given here are added.")
              : t("The form begins with what was reported; what you send counts instead.")
          }
        />
      ) : null}
      <Select
        label={t("Outcome")}
        name="outcome"
        value={outcome}
        onChange={(event) => setOutcome(event.target.value)}
        choices={OUTCOMES.map((o) => ({ ...o, label: t(o.label) }))}
      />
      {isKitOnShelf && outcome === "done" ? (
        <Notice kind="warn" title={t("Did you have its kit?")}>
          {t(
            "By the books its kit was never issued. Send the report all the same, and tell logistics what you worked with.",
          )}
        </Notice>
      ) : null}
      {outcome === "hold" ? (
        <TextInput label={t("Why is it on hold?")} name="holdReason" required minLength={3} maxLength={300} />
      ) : null}
      {outcome === "part done" ? (
        <NumberInput
          label={t("Hours left")}
          name="hoursLeft"
          unit="h"
          min={0.25}
          max={168}
          step="any"
          hint={t("With the way in and up again. Empty = the next plan counts the whole visit.")}
        />
      ) : null}
      <div key={place} className="grid gap-3 sm:grid-cols-2">
        <DateInput
          label={t("Day worked")}
          name="workedOn"
          defaultValue={corrected?.workedOn ?? today}
          max={today}
          required
        />
        <NumberInput
          label={t("Hours worked on site")}
          name="hours"
          unit="h"
          min={0}
          max={168}
          step="any"
          required={outcome !== "hold"}
          defaultValue={corrected && corrected.workedMin / 60}
          hint={
            outcome === "hold"
              ? t("Blank = nobody went, or none was worked")
              : isOnTop
                ? t("Without those reported already")
                : t("Planned {{hours}} h", { hours: formatNumber(known.plannedMin / 60, 1, locale, true) })
          }
        />
      </div>
      {readings.length > 0 ? (
        <Disclosure
          summary={t("Acceptance readings: {{readings}} to take. Blank = not read", {
            readings: readings.length,
          })}
          open
        >
          <ReadingFields readings={readings} />
        </Disclosure>
      ) : null}
      {tasks.length > 0 ? (
        <Disclosure summary={t("Minutes by task: if you timed them, then all of them")}>
          <div className="grid gap-3 sm:grid-cols-2">
            {tasks.map((task) => (
              <NumberInput
                key={task.part}
                label={t(task.name)}
                name={`task-${task.part}`}
                unit="min"
                min={0}
                max={1440}
                step={1}
                hint={t("Estimated {{minutes}} min", { minutes: Math.round(task.estimateMin) })}
              />
            ))}
          </div>
        </Disclosure>
      ) : null}
      {lines.length > 0 && outcome !== "hold" ? (
        <Disclosure
          // What is filled in follows the outcome: until the work is done nothing counts as used but what is said.
          key={`${outcome} ${place}`}
          summary={
            outcome === "done" && !isOnTop
              ? materialWords(lines, t)
              : t("Material: nothing counts as used yet, {{lines}}. Open to book what is used up", {
                  lines: linesWords(lines, t),
                })
          }
        >
          <div className="grid gap-3">
            {lines.map((l, i) => {
              const reported = isOnTop ? { used: 0, left: 0 } : l.reported;
              const openNow = outcome === "done" && !l.missing ? Math.max(0, l.planned - l.usedBefore) : 0;
              const before = l.usedBefore + (isOnTop ? (l.reported?.used ?? 0) : 0);
              return (
                <fieldset key={`${l.itemCode} ${l.runId ?? i}`} className="grid grid-cols-2 gap-2">
                  <legend>
                    {l.name} <span className="text-quiet">{l.itemCode}</span>
                  </legend>
                  <NumberInput
                    label={t("Used")}
                    name={`used-${i}`}
                    unit={l.isMetres ? "m" : undefined}
                    min={0}
                    step={l.isInPieces ? 1 : 0.01}
                    defaultValue={reported?.used ?? Number(openNow.toFixed(2))}
                    hint={
                      before > 0
                        ? t("{{amount}} reported before", {
                            amount: `${formatNumber(before, 2, locale)}${l.isMetres ? " m" : ""}`,
                          })
                        : l.missing
                          ? t(MISSING_WORDS[l.missing])
                          : l.isMetres || Number.isInteger(l.needed)
                            ? undefined
                            : l.isInPieces
                              ? t("{{amount}} planned, with an allowance", {
                                  amount: formatNumber(l.needed, 2, locale),
                                })
                              : t("{{amount}} planned; the rest stays on the vehicle for the next visit", {
                                  amount: formatNumber(l.needed, 2, locale),
                                })
                    }
                  />
                  <NumberInput
                    label={t("Left over")}
                    name={`left-${i}`}
                    unit={l.isMetres ? "m" : undefined}
                    min={0}
                    step={l.isMetres ? 0.01 : 1}
                    defaultValue={reported?.left ?? 0}
                  />
                </fieldset>
              );
            })}
          </div>
        </Disclosure>
      ) : null}
      {radios.length > 0 ? <HungFields radios={radios} /> : null}
      {units.length > 0 ? <FaultFields items={units} /> : null}
      <TextArea
        key={`note ${place}`}
        label={t("Note")}
        name="note"
        rows={2}
        maxLength={2000}
        defaultValue={corrected?.note}
      />
      <ProblemList problems={problems} />
      {answer ? (
        <Notice kind={answer.revisits.length > 0 ? "warn" : "good"} announce>
          {receivedWords(answer, t)}
        </Notice>
      ) : null}
      <OutboxPanel outbox={outbox} />
      {asked.doubts.length > 0 ? (
        <Notice kind="warn" announce title={t("Is this right?")}>
          <ul className="grid gap-1">
            {asked.doubts.map((d) => (
              <li key={`${d.path} ${d.words.text}`}>
                {reportFieldName(d.path, { uses: lines, faults: asked.faults }, t)}: {say(d.words)}
              </li>
            ))}
          </ul>
          <p>{t("Send all the same, or correct it.")}</p>
        </Notice>
      ) : null}
      {asked.untaken > 0 ? (
        <Notice kind="warn" announce title={t("{{count}} readings are not taken", { count: asked.untaken })}>
          {t(
            "The hop is not accepted without them: somebody has to come again. Send all the same, or take them now.",
          )}
        </Notice>
      ) : null}
      <Button type="submit" disabled={outbox.state === "sending"}>
        {outbox.state === "sending"
          ? t("Sending")
          : isQuestion(asked)
            ? t("Send all the same")
            : t("Send report")}
      </Button>
    </form>
  );
}

function receivedWords({ booked, notOnVehicle, revisits, faults = [] }: ReportTaken, t: Words["t"]): string {
  return [
    t("Report received."),
    booked > 0 ? t("{{count}} lines taken off the vehicle's stock.", { count: booked }) : "",
    notOnVehicle > 0
      ? t("Of {{count}} lines the vehicle did not hold all by the books: logistics will look.", {
          count: notOnVehicle,
        })
      : "",
    faults.length > 0
      ? t("Faulty units are on hold by the books (fault {{faults}}): bring them to the warehouse.", {
          faults: faults.join(", "),
        })
      : "",
    revisits.length > 0 ? t("A reading failed: a revisit is opened, and the rollout manager sees it.") : "",
  ]
    .filter(Boolean)
    .join(" ");
}

function writtenOf(millis: number, { zone, behindMillis }: CrewClock): DoubtedReport["written"] {
  const { date, minuteOfDay } = localOf(millis - behindMillis, zone);
  return { on: date, atMin: minuteOfDay };
}

/**
 * What the page knows, with what this phone has not sent yet, and, where the report comes on top of one that says done,
 * with what that one used.
 */
function knownHere(
  known: VisitKnown,
  waiting: readonly WaitingReport[],
  onTopOf: readonly ReportLine[],
): VisitKnown {
  const done = waiting.filter((r) => !r.problems && r.report.outcome === "done").map((r) => r.visitId);
  const usedOf = (k: UseKnown) =>
    onTopOf.find((l) => l.itemCode === k.itemCode && l.runId === k.runId)?.reported?.used ?? 0;
  return {
    ...known,
    openInstalls: known.openInstalls.filter((i) => !done.includes(i.visitId)),
    uses: known.uses.map((k) => ({ ...k, before: k.before + usedOf(k) })),
  };
}

interface FormParts {
  visitId: string;
  outcome: string;
  readings: readonly JudgedReading[];
  tasks: readonly PartMinutes[];
  lines: readonly ReportLine[];
  radios: readonly HungRadio[];
}

/** What the form says, as the server reads it (app/api/reports). */
function reportOf(form: FormData, { visitId, outcome, readings, tasks, lines, radios }: FormParts) {
  const number = (name: string) => Number(String(form.get(name) ?? "").replace(",", "."));
  return {
    visitId,
    workedOn: String(form.get("workedOn")) as CalendarDate,
    outcome,
    workedMin: Math.round(number("hours") * 60),
    leftMin: Math.round(number("hoursLeft") * 60) || undefined,
    holdReason: String(form.get("holdReason") ?? ""),
    note: String(form.get("note") ?? ""),
    readings: readingsFrom(
      form,
      readings.map((r) => r.asked),
    ),
    parts: tasks.flatMap(({ part }) => {
      const workedMin = number(`task-${part}`);
      return workedMin > 0 ? [{ part, workedMin }] : [];
    }),
    faults: faultsFrom(form),
    hung: hungFrom(form, radios),
    // On hold nothing is used: who used a part of the kit reports part done.
    uses: (outcome === "hold" ? [] : lines).map((l, i) => ({
      itemCode: l.itemCode,
      runId: l.runId,
      drumSerial: l.drumSerial,
      used: number(`used-${i}`),
      left: number(`left-${i}`),
    })),
  };
}
