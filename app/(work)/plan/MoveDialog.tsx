"use client";

import { useState } from "react";
import { DateInput, Select, TextInput } from "@/app/_ui/Field";
import { formatClock, formatDate } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Notice } from "@/app/_ui/Notice";
import type { BoardCrew, BoardVisit } from "@/app/_ui/PlanBoard";
import { addDays, type CalendarDate } from "@/lib/time";
import { acceptVisitMove } from "./actions";
import { type EditDone, EffectForm, type EffectFormProps } from "./EffectForm";
import { sayVisit } from "./sayVisit";

export interface MoveWanted {
  visitId: string;
  crewCode: string;
  on: CalendarDate;
  startMin?: number;
}

export interface MoveDialogProps
  extends Pick<EffectFormProps, "planId" | "revision" | "isInForce" | "onClose" | "onRefresh"> {
  /** With where the visit stands then. */
  onDone: (done: EditDone, at: { crewCode: string; on: CalendarDate }) => void;
  wanted: MoveWanted;
  visit?: BoardVisit;
  crews: readonly BoardCrew[];
  firstDay: CalendarDate;
  lastDay: CalendarDate;
}

/** `09:30` as minutes of the day; undefined when empty: the cheapest place in the day. */
function minutesOf(clock: string): number | undefined {
  const m = /^(\d{1,2}):(\d{2})$/.exec(clock);
  return m ? Number(m[1]) * 60 + Number(m[2]) : undefined;
}

/** One visit to another crew, day and start. */
export function MoveDialog({ wanted, visit, crews, firstDay, lastDay, onDone, ...form }: MoveDialogProps) {
  const words = useWords();
  const { t, locale } = words;
  const [crewCode, setCrewCode] = useState(wanted.crewCode);
  const [on, setOn] = useState<string>(wanted.on);
  const [start, setStart] = useState(wanted.startMin === undefined ? "" : formatClock(wanted.startMin));
  const startMin = minutesOf(start);
  const isJoint = visit?.togetherId !== undefined;
  return (
    <EffectForm
      {...form}
      onDone={(done) => onDone(done, { crewCode, on: on as CalendarDate })}
      title={t("Move {{what}}", { what: sayVisit(wanted.visitId, words) })}
      path="/plan/effect"
      query={{ visit: wanted.visitId, crew: crewCode, on, start: startMin }}
      submitWords={t("Accept the move")}
      brokenLead={({ shifts }) => {
        const to = shifts.find((s) => s.visitId === wanted.visitId)?.to;
        if (startMin !== undefined || isJoint || !to) return undefined;
        return t("No start was given, and none on this day keeps every rule. These stand against {{time}}.", {
          time: formatClock(to.startMin),
        });
      }}
      send={(read, key) =>
        acceptVisitMove({ ...read, visitId: wanted.visitId, crewCode, on: on as CalendarDate, startMin }, key)
      }
    >
      <div className="ui-form-row">
        <Select
          label={t("Crew")}
          value={crewCode}
          onChange={(e) => setCrewCode(e.target.value)}
          choices={crews.map((c) => ({ value: c.id, label: c.code }))}
        />
        <DateInput
          label={t("Day")}
          value={on}
          min={firstDay}
          max={lastDay}
          onChange={(e) => setOn(e.target.value)}
        />
        <TextInput
          label={t("Start")}
          type="time"
          hint={
            isJoint
              ? t("The hours that suit both ends and both crews decide.")
              : t("Empty: the cheapest place in the day.")
          }
          value={start}
          onChange={(e) => setStart(e.target.value)}
        />
      </div>
      {visit?.isPinned ? (
        <Notice
          kind="info"
          title={t("It is pinned: the search leaves it on {{day}} with {{crew}}.", {
            day: formatDate(addDays(firstDay, visit.startDay), "weekday", locale),
            crew: visit.crewId ?? "",
          })}
        >
          {t("Once the move is accepted it is pinned at its new place.")}
        </Notice>
      ) : null}
    </EffectForm>
  );
}
