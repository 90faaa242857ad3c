"use client";

import { useId } from "react";
import { Check, DateInput, FieldGroup, NumberInput, Select, TextInput } from "@/app/_ui/Field";
import { formatDate } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { SaidGlyph } from "@/app/_ui/language/SaidGlyph";
import type { Words } from "@/app/_ui/language/words";
import { STRUCTURE_WORDS } from "@/app/(work)/hops/hopStates";
import { addDays, type CalendarDate } from "@/lib/time";
import type { FieldSpec } from "./fields";

export interface Suggestion {
  value: string;
  label?: string;
}

export interface ColumnFieldProps {
  spec: FieldSpec;
  /** Its path among the problems of the form. */
  name: string;
  value: string;
  onChange: (value: string) => void;
  error: string | undefined;
  /** Values that are known and others may be typed beside, or with `isClosed` the only ones. */
  suggestions?: readonly Suggestion[];
  isClosed?: boolean;
  /** Names the record: it stays as it is. */
  isFixed?: boolean;
}

/** One column of an import as a field: label, unit, whether it is needed, and what a blank one means. */
export function ColumnField(props: ColumnFieldProps) {
  const words = useWords();
  const { t } = words;
  const { spec, name, value, onChange, error, suggestions = [], isClosed = false, isFixed = false } = props;
  const listId = useId();
  const list = suggestions.length > 0 && !isClosed ? listId : undefined;
  const unit = spec.unit && t(spec.unit);
  const shared = { label: t(spec.label), unit, error, name, value, required: spec.isRequired };
  const change = (event: { target: { value: string } }) => onChange(event.target.value);
  if (isFixed)
    return (
      <TextInput
        {...shared}
        value={fixedWords(spec, value, words)}
        required={false}
        hint={t(FIXED)}
        readOnly
      />
    );
  const hint = hintOf(spec, words);
  if (spec.listForm === "weekdays")
    return <Weekdays {...props} hint={`${t(spec.description)} ${t("None ticked: Monday to Friday.")}`} />;
  const choices = choicesOf(spec, words) ?? (isClosed ? suggestions : undefined);
  if (choices)
    return (
      <Select
        {...shared}
        hint={t(spec.description)}
        choices={withOwn(choices, value)}
        empty={emptyWords(spec, words)}
        onChange={change}
      />
    );
  const parts = { ...shared, hint, list, onChange: change, autoComplete: "off" };
  return (
    <>
      {spec.type === "date" ? (
        <DateInput {...parts} />
      ) : spec.type === "number" || spec.type === "integer" ? (
        <NumberInput {...parts} type="text" inputMode={spec.isSigned ? undefined : "decimal"} />
      ) : (
        <TextInput {...parts} />
      )}
      {list ? (
        <datalist id={list}>
          {suggestions.map((s) => (
            <option key={s.value} value={s.value} label={s.label} />
          ))}
        </datalist>
      ) : null}
    </>
  );
}

/** A key of a row that stands. */
export const FIXED = "Names it everywhere and stays as it is.";

/** A name that is not changed here; a gate without an end holds both. */
const fixedWords = ({ choices }: FieldSpec, value: string, { t }: Words): string =>
  choices ? t(value === "" ? "both ends" : value) : value;

function hintOf({ description, usual, unit }: FieldSpec, { t }: Words): string {
  if (usual === undefined) return t(description);
  const meant = unit ? `${usual} ${t(unit)}` : t(usual);
  return `${t(description)} ${t("Left blank: {{usual}}.", { usual: meant })}`;
}

function emptyWords({ usual, isRequired, type, key }: FieldSpec, { t }: Words): string {
  if (key === "side") return t("both ends");
  if (usual !== undefined) return t("{{usual}} (usual)", { usual: t(usual) });
  if (isRequired) return t("choose");
  return type === "boolean" ? t("not known") : t("none given");
}

function choicesOf({ key, type, choices, listForm }: FieldSpec, { t }: Words): Suggestion[] | undefined {
  if (type === "boolean") return ["yes", "no"].map((value) => ({ value, label: t(value) }));
  if (listForm === "polarisations")
    return ["V", "H", "V; H"].map((value) => ({ value, label: value === "V; H" ? t("V and H") : t(value) }));
  const said: Readonly<Record<string, string>> = key === "structure" ? STRUCTURE_WORDS : {};
  return choices?.map((value) => ({ value, label: t(said[value] ?? value) }));
}

/** What stands is offered too, also when nobody would choose it today. */
function withOwn(choices: readonly Suggestion[], value: string): { value: string; label: string }[] {
  const all = choices.map((c) => ({ value: c.value, label: c.label ?? c.value }));
  return value === "" || all.some((c) => c.value === value) ? all : [...all, { value, label: value }];
}

/** A Monday; any does, for the names of the days of its week. */
const MONDAY = "2026-01-05" as CalendarDate;
const DAYS = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"] as const;

/** The days as ticks; their text is that of files: "Mon; Tue". */
function Weekdays({ spec, name, value, onChange, error, hint }: ColumnFieldProps & { hint: string }) {
  const { t, locale } = useWords();
  const chosen = new Set(value.split(";").map((day) => day.trim()));
  const toggle = (day: string) =>
    onChange(DAYS.filter((d) => (d === day ? !chosen.has(d) : chosen.has(d))).join("; "));
  return (
    <FieldGroup label={t(spec.label)}>
      <div className="flex flex-wrap gap-x-4">
        {DAYS.map((day, i) => (
          <Check
            key={day}
            name={name}
            label={formatDate(addDays(MONDAY, i), "weekdayOnly", locale)}
            checked={chosen.has(day)}
            onChange={() => toggle(day)}
          />
        ))}
      </div>
      <div className="ui-field-hint">{hint}</div>
      {error ? (
        <div className="ui-field-error">
          <SaidGlyph name="fail" label="Problem" />
          <span>{error}</span>
        </div>
      ) : null}
    </FieldGroup>
  );
}
