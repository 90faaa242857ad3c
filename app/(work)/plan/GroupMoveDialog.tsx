"use client";

import { useState } from "react";
import { Select, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Notice } from "@/app/_ui/Notice";
import type { BoardCrew } from "@/app/_ui/PlanBoard";
import { acceptGroupMove } from "./actions";
import { EffectForm, type EffectFormProps } from "./EffectForm";

export interface GroupMoveDialogProps
  extends Pick<EffectFormProps, "planId" | "revision" | "isInForce" | "onClose" | "onDone" | "onRefresh"> {
  visitIds: readonly string[];
  /** So many of them a person has pinned. */
  pinnedCount: number;
  crews: readonly BoardCrew[];
}

/** Several visits by days, to a crew, or both, as one edit. */
export function GroupMoveDialog({ visitIds, pinnedCount, crews, ...form }: GroupMoveDialogProps) {
  const { t } = useWords();
  const [days, setDays] = useState("1");
  const [crew, setCrew] = useState("");
  const byDays = /^[+-]?\d{1,3}$/.test(days.trim()) ? Number(days) : undefined;
  const crewCode = crew || undefined;
  const isAsked = byDays !== undefined && (byDays !== 0 || crewCode !== undefined);
  return (
    <EffectForm
      {...form}
      title={t("Move {{count}} visits", { count: visitIds.length })}
      path="/plan/group-effect"
      query={isAsked ? { visits: visitIds.join("\n"), days: byDays, crew: crewCode } : undefined}
      submitWords={t("Accept for {{count}} visits", { count: visitIds.length })}
      send={(read, key) =>
        acceptGroupMove({ ...read, visitIds: [...visitIds], byDays: byDays ?? 0, crewCode }, key)
      }
    >
      <div className="ui-form-row">
        <TextInput
          label={t("Days later")}
          type="number"
          min={-366}
          max={366}
          step={1}
          hint={t("Calendar days; a negative number goes earlier.")}
          error={byDays === undefined ? t("a whole number of days, such as 7 or -2") : undefined}
          value={days}
          onChange={(e) => setDays(e.target.value)}
        />
        <Select
          label={t("Crew")}
          value={crew}
          onChange={(e) => setCrew(e.target.value)}
          choices={[
            { value: "", label: t("Each keeps its own") },
            ...crews.map((c) => ({ value: c.id, label: c.code })),
          ]}
        />
      </div>
      {pinnedCount > 0 ? (
        <Notice
          kind="info"
          title={t("{{count}} of them are pinned where they stand now.", { count: pinnedCount })}
        >
          {t("Once the move is accepted all are pinned at their new places.")}
        </Notice>
      ) : null}
    </EffectForm>
  );
}
