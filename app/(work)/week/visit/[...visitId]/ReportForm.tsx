"use client";

import { useRouter } from "next/navigation";
import { type FormEvent, useRef, useState } from "react";
import { Button } from "@/app/_ui/Button";
import { Disclosure } from "@/app/_ui/Disclosure";
import { DateInput, NumberInput, Select, TextArea, TextInput } from "@/app/_ui/Field";
import { Notice } from "@/app/_ui/Notice";
import { ProblemList } from "@/app/_ui/ProblemList";
import { ReadingFields } from "@/app/(work)/hops/ReadingFields";
import { readingsFrom } from "@/app/(work)/hops/readings";
import type { JudgedReading } from "@/lib/acceptance";
import type { PartMinutes } from "@/lib/calibration";
import type { Problem } from "@/lib/result";
import { reportVisit } from "./actions";

export interface ReportLine {
  itemCode: string;
  name: string;
  runId: string | null;
  drumSerial: string | null;
  needed: number;
  isMetres: boolean;
}

const OUTCOMES = [
  { value: "done", label: "Done" },
  { value: "part done", label: "Part done, we come back" },
  { value: "hold", label: "On hold" },
];

/** Hours, use and leftovers, or a hold with its reason. Sent once, however often the button or the network repeats it. */
export function ReportForm({
  visitId,
  today,
  plannedMin,
  readings,
  tasks,
  lines,
}: {
  visitId: string;
  today: string;
  plannedMin: number;
  /** Acceptance readings to take on this visit. */
  readings: readonly JudgedReading[];
  /** Tasks that a crew may have timed. */
  tasks: readonly PartMinutes[];
  lines: readonly ReportLine[];
}) {
  const router = useRouter();
  // One key per intent: a retry after a lost answer carries the same one, a new report a new one.
  const key = useRef<string>(undefined);
  const [outcome, setOutcome] = useState("done");
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [said, setSaid] = useState("");
  const [sending, setSending] = useState(false);

  async function send(event: FormEvent<HTMLFormElement>) {
    event.preventDefault();
    const form = new FormData(event.currentTarget);
    key.current ??= crypto.randomUUID();
    setSending(true);
    setSaid("");
    try {
      const answer = await reportVisit(
        {
          visitId,
          workedOn: String(form.get("workedOn")),
          outcome: outcome as "done",
          workedMin: Math.round(Number(String(form.get("hours")).replace(",", ".")) * 60),
          holdReason: String(form.get("holdReason") ?? ""),
          note: String(form.get("note") ?? ""),
          readings: readingsFrom(
            form,
            readings.map((r) => r.asked),
          ),
          parts: tasks.flatMap(({ part }) => {
            const workedMin = Number(String(form.get(`task-${part}`) ?? "").replace(",", "."));
            return workedMin > 0 ? [{ part, workedMin }] : [];
          }),
          uses: lines.map((l, i) => ({
            itemCode: l.itemCode,
            runId: l.runId,
            drumSerial: l.drumSerial,
            used: Number(form.get(`used-${i}`) ?? 0),
            left: Number(form.get(`left-${i}`) ?? 0),
          })),
        },
        key.current,
      );
      setProblems(answer.ok ? [] : answer.problems);
      if (answer.ok) {
        key.current = undefined;
        const { booked, notOnVehicle, revisits } = answer.value;
        setSaid(
          `Report received.${booked > 0 ? ` ${booked} lines taken off the vehicle's stock.` : ""}${notOnVehicle > 0 ? ` ${notOnVehicle} lines were not on the vehicle by the books: logistics will look.` : ""}${revisits.length > 0 ? " A reading failed: a revisit is opened, and the rollout manager sees it." : ""}`,
        );
        router.refresh();
      }
    } catch {
      setProblems([
        {
          path: "report",
          rule: "not-sent",
          message: "The report did not reach the server.",
          remedy: "Nothing is lost on this page. Send it again when there is a signal: it counts once.",
        },
      ]);
    } finally {
      setSending(false);
    }
  }

  return (
    <form onSubmit={send} className="grid gap-3">
      <Select
        label="Outcome"
        name="outcome"
        value={outcome}
        onChange={(event) => setOutcome(event.target.value)}
        choices={OUTCOMES}
      />
      {outcome === "hold" ? (
        <TextInput label="Why is it on hold?" name="holdReason" required minLength={3} maxLength={300} />
      ) : null}
      <div className="grid gap-3 sm:grid-cols-2">
        <DateInput label="Day worked" name="workedOn" defaultValue={today} max={today} required />
        <NumberInput
          label="Hours worked on site"
          name="hours"
          unit="h"
          min={0}
          max={168}
          step={0.25}
          required
          hint={`Planned ${(plannedMin / 60).toFixed(1)} h`}
        />
      </div>
      {readings.length > 0 ? (
        <Disclosure summary={`Acceptance readings: ${readings.length} to take. Blank = not read`} open>
          <ReadingFields readings={readings} />
        </Disclosure>
      ) : null}
      {tasks.length > 0 ? (
        <Disclosure summary="Minutes by task: if you timed them, then all of them">
          <div className="grid gap-3 sm:grid-cols-2">
            {tasks.map((t) => (
              <NumberInput
                key={t.part}
                label={t.name}
                name={`task-${t.part}`}
                unit="min"
                min={0}
                max={1440}
                step={1}
                hint={`Estimated ${Math.round(t.estimateMin)} min`}
              />
            ))}
          </div>
        </Disclosure>
      ) : null}
      {lines.length > 0 ? (
        <Disclosure summary={`Material: counted as used as planned, ${lines.length} lines. Open to change`}>
          <div className="grid gap-3">
            {lines.map((l, i) => {
              const planned = l.isMetres ? l.needed : Math.ceil(l.needed - 1e-9);
              return (
                <fieldset key={`${l.itemCode} ${l.runId ?? i}`} className="grid grid-cols-2 gap-2">
                  <legend>
                    {l.name} <span className="text-quiet">{l.itemCode}</span>
                  </legend>
                  <NumberInput
                    label="Used"
                    name={`used-${i}`}
                    unit={l.isMetres ? "m" : undefined}
                    min={0}
                    step={l.isMetres ? 0.1 : 1}
                    defaultValue={planned}
                  />
                  <NumberInput
                    label="Left over"
                    name={`left-${i}`}
                    unit={l.isMetres ? "m" : undefined}
                    min={0}
                    step={l.isMetres ? 0.1 : 1}
                    defaultValue={0}
                  />
                </fieldset>
              );
            })}
          </div>
        </Disclosure>
      ) : null}
      <TextArea label="Note" name="note" rows={2} maxLength={2000} />
      <ProblemList problems={problems} />
      {said ? (
        <Notice kind="good" announce>
          {said}
        </Notice>
      ) : null}
      <Button type="submit" disabled={sending}>
        {sending ? "Sending" : "Send report"}
      </Button>
    </form>
  );
}
