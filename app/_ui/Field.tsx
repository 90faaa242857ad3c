"use client";

import { type ComponentProps, type ReactNode, useId } from "react";
import { SaidGlyph } from "./language/SaidGlyph";
import { T } from "./language/T";

/** What every form part shares. */
export interface FieldWords {
  label: ReactNode;
  /** Unit after the label and inside number fields: "m", "m/s", "EUR". */
  unit?: string;
  /** How to fill it, before the person goes wrong. */
  hint?: ReactNode;
  /** What is wrong with the value and what to do; marks the part invalid. */
  error?: ReactNode;
  /** The label is spoken but not seen: only in toolbars where a sign says it. */
  hideLabel?: boolean;
}

interface FieldProps extends FieldWords {
  required?: boolean;
  /** Draws the control with the ids that tie label, hint and error to it. */
  children: (ids: { id: string; "aria-describedby"?: string; "aria-invalid"?: true }) => ReactNode;
}

/** Frame of one form part: label, hint and error tied to the control. Use the typed parts below where they fit. */
export function Field({
  label,
  unit,
  hint,
  error,
  hideLabel = false,
  required = false,
  children,
}: FieldProps) {
  const id = useId();
  const describedBy = [hint ? `${id}-hint` : "", error ? `${id}-error` : ""].filter(Boolean).join(" ");
  return (
    <div className="ui-field">
      <label className={hideLabel ? "sr-only" : "ui-field-label"} htmlFor={id}>
        {label}
        {unit ? <span className="ui-unit"> {unit}</span> : null}
        {required ? (
          <span className="ui-unit">
            {" "}
            <T>required</T>
          </span>
        ) : null}
      </label>
      {children({
        id,
        "aria-describedby": describedBy || undefined,
        "aria-invalid": error ? true : undefined,
      })}
      {/* Under the control, so that controls side by side stay on one line whether they have a hint or not. */}
      {hint ? (
        <div className="ui-field-hint" id={`${id}-hint`}>
          {hint}
        </div>
      ) : null}
      {error ? (
        <div className="ui-field-error" id={`${id}-error`}>
          <SaidGlyph name="fail" label="Problem" />
          <span>{error}</span>
        </div>
      ) : null}
    </div>
  );
}

type Native<Tag extends "input" | "select" | "textarea"> = Omit<
  ComponentProps<Tag>,
  "id" | "children" | "size"
>;

/** One line of text. */
export function TextInput({ label, unit, hint, error, hideLabel, ...native }: FieldWords & Native<"input">) {
  return (
    <Field {...{ label, unit, hint, error, hideLabel }} required={native.required}>
      {(ids) => <input type="text" {...native} {...ids} className="ui-input" />}
    </Field>
  );
}

/** Several lines of text. */
export function TextArea({
  label,
  unit,
  hint,
  error,
  hideLabel,
  ...native
}: FieldWords & Native<"textarea">) {
  return (
    <Field {...{ label, unit, hint, error, hideLabel }} required={native.required}>
      {(ids) => <textarea rows={4} {...native} {...ids} className="ui-input" />}
    </Field>
  );
}

/**
 * A number with its unit in the field. The value is submitted with a decimal point whatever the
 * reader's locale; `step="any"` unless a step is given, so that 47.25 m is no error.
 */
export function NumberInput({
  label,
  unit,
  hint,
  error,
  hideLabel,
  ...native
}: FieldWords & Native<"input">) {
  return (
    <Field {...{ label, hint, error, hideLabel }} required={native.required}>
      {(ids) => (
        <div className={unit ? "ui-input-with-unit" : undefined}>
          <input
            type="number"
            // The keys for decimals have no minus on many phones (common practice).
            inputMode={native.min !== undefined && Number(native.min) >= 0 ? "decimal" : undefined}
            step="any"
            {...native}
            {...ids}
            className="ui-input"
          />
          {unit ? <span>{unit}</span> : null}
        </div>
      )}
    </Field>
  );
}

/** A calendar date; its value is `YYYY-MM-DD`, the form of `CalendarDate`. The browser shows it in its own locale. */
export function DateInput({ label, unit, hint, error, hideLabel, ...native }: FieldWords & Native<"input">) {
  return (
    <Field {...{ label, unit, hint, error, hideLabel }} required={native.required}>
      {(ids) => <input type="date" {...native} {...ids} className="ui-input" />}
    </Field>
  );
}

export interface Choice {
  value: string;
  label: string;
  disabled?: boolean;
}

/** One of a list. `empty` adds a first entry with the value "". */
export function Select({
  label,
  unit,
  hint,
  error,
  hideLabel,
  choices,
  empty,
  ...native
}: FieldWords & Native<"select"> & { choices: readonly Choice[]; empty?: string }) {
  return (
    <Field {...{ label, unit, hint, error, hideLabel }} required={native.required}>
      {(ids) => (
        <select {...native} {...ids} className="ui-input">
          {empty === undefined ? null : <option value="">{empty}</option>}
          {choices.map((choice) => (
            <option key={choice.value} value={choice.value} disabled={choice.disabled}>
              {choice.label}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
}

export interface CheckProps extends Native<"input"> {
  label: ReactNode;
  /** Quiet figure at the right: how many rows have it. */
  count?: string;
  kind?: "checkbox" | "radio";
}

/** A tick box or a radio button with its word; the whole line is the target. */
export function Check({ label, count, kind = "checkbox", ...native }: CheckProps) {
  return (
    <label className="ui-check">
      <input {...native} type={kind} />
      <span>{label}</span>
      {count === undefined ? null : <span className="ui-check-count">{count}</span>}
    </label>
  );
}

/** Parts that belong under one name: weekdays, a radio choice. */
export function FieldGroup({ label, children }: { label: ReactNode; children: ReactNode }) {
  return (
    <fieldset className="ui-fieldset">
      <legend>{label}</legend>
      {children}
    </fieldset>
  );
}
