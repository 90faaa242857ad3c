"use client";

import { type FormEvent, useEffect, useRef, useState } from "react";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { Check, DateInput, Select, TextInput } from "@/app/_ui/Field";
import { formatClock, formatCount, formatDate, formatNumber } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import type { BoardCrew, BoardVisit } from "@/app/_ui/PlanBoard";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import type { BrokenByName, CostChange, NamedVisit, VisitShift } from "@/lib/programme";
import type { Problem } from "@/lib/result";
import type { CalendarDate } from "@/lib/time";
import { acceptVisitMove } from "./actions";
import { ask } from "./ask";

export interface MoveWanted {
  visitId: string;
  crewCode: string;
  on: CalendarDate;
  startMin?: number;
}

interface Effect {
  shifts: VisitShift[];
  broken: BrokenByName[];
  changes: CostChange[];
  total: number;
}

export interface MoveDialogProps {
  planId: number;
  revision: number;
  isInForce: boolean;
  wanted: MoveWanted;
  visit?: BoardVisit;
  crews: readonly BoardCrew[];
  firstDay: CalendarDate;
  lastDay: CalendarDate;
  onClose: () => void;
  onMoved: (done: { planId: number; revision: number }) => void;
  onStale: () => void;
}

/** `09:30` as minutes of the day; undefined when empty: the cheapest place in the day. */
function minutesOf(clock: string): number | undefined {
  const m = /^(\d{1,2}):(\d{2})$/.exec(clock);
  return m ? Number(m[1]) * 60 + Number(m[2]) : undefined;
}

/** Crew, day and start by hand; what it would do is shown before it can be accepted. */
export function MoveDialog(props: MoveDialogProps) {
  const { planId, revision, wanted, visit, crews, isInForce, onClose, onMoved, onStale } = props;
  const [crewCode, setCrewCode] = useState(wanted.crewCode);
  const [on, setOn] = useState<string>(wanted.on);
  const [start, setStart] = useState(wanted.startMin === undefined ? "" : formatClock(wanted.startMin));
  const [effect, setEffect] = useState<Effect>();
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [isAsking, setIsAsking] = useState(false);
  const [isSaving, setIsSaving] = useState(false);
  const [acceptsBroken, setAcceptsBroken] = useState(false);
  const key = useRef<string>(undefined);
  const startMin = minutesOf(start);
  const isJoint = visit?.togetherId !== undefined;

  // Asked anew a moment after the last change; a late answer to an older question is dropped.
  useEffect(() => {
    let isCurrent = true;
    setEffect(undefined);
    setAcceptsBroken(false);
    key.current = undefined;
    const timer = setTimeout(async () => {
      setIsAsking(true);
      const answer = await ask<Effect>("/plan/effect", {
        plan: planId,
        visit: wanted.visitId,
        crew: crewCode,
        on,
        start: startMin,
      });
      if (!isCurrent) return;
      setIsAsking(false);
      setProblems(answer.ok ? [] : answer.problems);
      if (answer.ok) setEffect(answer.value);
    }, 250);
    return () => {
      isCurrent = false;
      clearTimeout(timer);
    };
  }, [planId, wanted.visitId, crewCode, on, startMin]);

  async function accept(event: FormEvent): Promise<void> {
    event.preventDefault();
    if (!effect || isSaving) return;
    setIsSaving(true);
    key.current ??= crypto.randomUUID();
    const answer = await acceptVisitMove(
      {
        planId,
        revision,
        visitId: wanted.visitId,
        crewCode,
        on: on as CalendarDate,
        startMin,
        acceptsBroken,
      },
      key.current,
    );
    setIsSaving(false);
    if (answer.ok) onMoved(answer.value);
    else setProblems(answer.problems);
  }

  const isStale = problems.some((p) => p.rule === "changed-meanwhile");
  const isUnchanged = effect?.shifts.length === 0;
  return (
    <Dialog open onClose={onClose} title={`Move ${visit?.hopCode ?? wanted.visitId}`} wide>
      <form className="ui-form" onSubmit={accept}>
        <div className="ui-form-row">
          <Select
            label="Crew"
            value={crewCode}
            onChange={(e) => setCrewCode(e.target.value)}
            choices={crews.map((c) => ({ value: c.id, label: c.code }))}
          />
          <DateInput
            label="Day"
            value={on}
            min={props.firstDay}
            max={props.lastDay}
            onChange={(e) => setOn(e.target.value)}
          />
          <TextInput
            label="Start"
            type="time"
            hint={
              isJoint
                ? "The hours that suit both ends and both crews decide."
                : "Empty: the cheapest place in the day."
            }
            value={start}
            onChange={(e) => setStart(e.target.value)}
          />
        </div>
        <div className="grid gap-3 min-h-48 content-start" aria-live="polite" aria-busy={isAsking}>
          {problems.map((p) => (
            <Notice
              key={`${p.rule}${p.message}`}
              kind="problem"
              announce
              title={p.message}
              action={isStale ? <Button onClick={onStale}>Show it as it is now</Button> : undefined}
            >
              {p.remedy}
            </Notice>
          ))}
          {!effect && problems.length === 0 ? (
            <p className="text-quiet">
              <span className="ui-spinner" aria-hidden="true" /> Working out what it would do: rules, times of
              the visits around it, cost.
            </p>
          ) : null}
          {effect ? <EffectShown effect={effect} /> : null}
          {effect && effect.broken.length > 0 ? (
            <Check
              label="Keep it in the draft all the same. A draft that breaks a hard rule cannot be put in force."
              checked={acceptsBroken}
              onChange={(e) => setAcceptsBroken(e.target.checked)}
            />
          ) : null}
        </div>
        <p className="text-quiet">
          {isInForce
            ? "The plan in force stays as it is: the move goes into a new draft, pinned."
            : "The visit is pinned where you put it. You can take the move back."}
        </p>
        <div className="ui-form-actions justify-end">
          <Button onClick={onClose}>Leave it</Button>
          <Button
            kind="primary"
            type="submit"
            busy={isSaving}
            disabled={!effect || isUnchanged || isStale || (effect.broken.length > 0 && !acceptsBroken)}
          >
            Accept the move
          </Button>
        </div>
      </form>
    </Dialog>
  );
}

const placeWords = (v: NamedVisit | undefined) =>
  v ? `${v.crewCode}, ${formatDate(v.startOn, "weekday")} ${formatClock(v.startMin)}` : "no place";

function EffectShown({ effect }: { effect: Effect }) {
  const { shifts, broken, changes } = effect;
  return (
    <>
      {broken.length > 0 ? (
        <Notice kind="problem" title={`Breaks ${formatCount(broken.length, "hard rule")}`}>
          <ul>
            {broken.map((b) => (
              <li key={b.message}>
                <strong>{b.rule}</strong>: {b.message}
              </li>
            ))}
          </ul>
        </Notice>
      ) : (
        <Notice kind="good" title={shifts.length === 0 ? "It stands there already" : "Breaks no hard rule"}>
          {shifts.length > 1 ? `${formatCount(shifts.length, "visit")} get new times.` : null}
        </Notice>
      )}
      {changes.length > 0 ? (
        <ScrollRegion label="What it changes">
          <table className="ui-facts">
            <caption>What it changes</caption>
            <thead>
              <tr>
                <th scope="col">Term</th>
                <th scope="col" data-align="end">
                  Now
                </th>
                <th scope="col" data-align="end">
                  Then
                </th>
                <th scope="col" data-align="end">
                  Change
                </th>
              </tr>
            </thead>
            <tbody>
              {changes.map((c) => (
                <tr key={c.label}>
                  <th scope="row">
                    {c.label} <span className="ui-unit">{c.unit}</span>
                  </th>
                  <td data-align="end">{formatNumber(c.before, 1)}</td>
                  <td data-align="end">{formatNumber(c.after, 1)}</td>
                  <td data-align="end">{signed(c.after - c.before)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </ScrollRegion>
      ) : null}
      {shifts.length > 0 ? (
        <ScrollRegion label="Visits with new times">
          <table className="ui-facts">
            <caption>Visits with new times</caption>
            <thead>
              <tr>
                <th scope="col">Visit</th>
                <th scope="col">From</th>
                <th scope="col">To</th>
              </tr>
            </thead>
            <tbody>
              {shifts.map((s) => (
                <tr key={s.visitId}>
                  <th scope="row">{s.visitId}</th>
                  <td>{placeWords(s.from)}</td>
                  <td>{s.to ? placeWords(s.to) : `no place: ${s.unplaced?.rule ?? "nothing fits"}`}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </ScrollRegion>
      ) : null}
    </>
  );
}

export const signed = (value: number) => `${value > 0 ? "+" : ""}${formatNumber(value, 1)}`;
