"use client";

import { useState } from "react";
import type { RuleChange } from "@/app/_server/ruleChange";
import { Dialog } from "@/app/_ui/Dialog";
import { Check, FieldGroup, NumberInput, Select, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import type { Words } from "@/app/_ui/language/words";
import type { TakeoffRule } from "@/lib/takeoff";
import { SaveChange } from "./SaveChange";

/** What the dialog lets a person choose from; made on the server from lib's closed lists. */
export interface RuleChoices {
  drivers: readonly { name: string; meaning: string; perRun: boolean }[];
  categories: readonly string[];
  items: readonly { code: string; name: string; category: string }[];
  schemes: readonly string[];
  structures: readonly { value: string; label: string }[];
  mounts: readonly string[];
}

export const EMPTY_RULE: TakeoffRule = {
  id: "",
  name: "",
  category: "consumable",
  driver: "ends",
  factor: 1,
  offset: 0,
  allowance: 0,
  step: 1,
  level: "order",
  when: {},
  source: "",
  enabled: true,
};

export interface RuleDialogProps {
  basedOn: number;
  /** The row to change; EMPTY_RULE for a new one; undefined: closed. */
  rule: TakeoffRule | undefined;
  /** Ids in use, so that a new row gets one of its own. */
  ids: readonly string[];
  choices: RuleChoices;
  onClose: () => void;
}

/** One row of the take-off table. Closed lists and figures only: there is no formula to get wrong. */
export function RuleDialog({ basedOn, rule, ids, choices, onClose }: RuleDialogProps) {
  const { t } = useWords();
  return (
    <Dialog
      open={rule !== undefined}
      onClose={onClose}
      title={rule?.id ? t("Change: {{name}}", { name: rule.name }) : t("New take-off row")}
      wide
    >
      {rule ? (
        <SaveChange
          kind="takeoff rules"
          basedOn={basedOn}
          effectFirst
          onClose={onClose}
          readChange={(form) => readRule(rule, form, ids)}
        >
          <RuleFields rule={rule} choices={choices} />
        </SaveChange>
      ) : null}
    </Dialog>
  );
}

export const LEVELS = [
  { value: "run", label: "each run" },
  { value: "end", label: "each end" },
  { value: "site", label: "each site" },
  { value: "order", label: "the whole order" },
];

export const ALLOWANCES = [
  { value: "", label: "the share beside" },
  { value: "connectorLoss", label: "policy: connectors spoilt" },
  { value: "tieLoss", label: "policy: ties lost" },
];

const plain = (values: readonly string[]): Option[] => values.map((value) => ({ value, label: value }));

interface Option {
  value: string;
  label: string;
}

/** Choices whose words are ours, in the reader's language. */
const saidOptions = (options: readonly Option[], t: Words["t"]): Option[] =>
  options.map((o) => ({ ...o, label: t(o.label) }));

function RuleFields({ rule, choices }: { rule: TakeoffRule; choices: RuleChoices }) {
  const { t } = useWords();
  const [category, setCategory] = useState<string>(rule.category);
  const [driver, setDriver] = useState<string>(rule.driver);
  const meaning = choices.drivers.find((d) => d.name === driver);
  const items = choices.items
    .filter((i) => i.category === category)
    .map((i) => ({ value: i.code, label: `${i.code} ${i.name}` }));
  return (
    <>
      <p className="text-quiet">
        {t("Quantity = (driver × factor + offset) × (1 + allowance), rounded up to the step over the level.")}
      </p>
      <div className="ui-form-row">
        <TextInput label={t("Name")} name="name" defaultValue={rule.name} required maxLength={120} />
        <Select
          label={t("Category")}
          name="category"
          choices={saidOptions(plain(choices.categories), t)}
          value={category}
          onChange={(e) => setCategory(e.target.value)}
        />
        <Select
          key={category}
          label={t("Item")}
          name="itemCode"
          choices={items}
          empty={t("fitted by attributes")}
          defaultValue={category === rule.category ? (rule.itemCode ?? "") : ""}
          hint={t("Fitted: by cable diameter, band and the like.")}
        />
        <Select
          label={t("Driver")}
          name="driver"
          choices={saidOptions(plain(choices.drivers.map((d) => d.name)), t)}
          value={driver}
          onChange={(e) => setDriver(e.target.value)}
          hint={t("Counts: {{what}}", { what: meaning ? t(meaning.meaning) : "" })}
        />
      </div>
      <div className="ui-form-row">
        <NumberInput label={t("Factor")} name="factor" min={0} defaultValue={String(rule.factor)} required />
        <NumberInput
          label={t("Offset")}
          name="offset"
          min={0}
          defaultValue={String(rule.offset)}
          hint={t("Once per end, when the driver is above nought.")}
          required
        />
        <NumberInput
          label={t("Allowance")}
          name="allowance"
          unit="%"
          min={0}
          max={100}
          defaultValue={String(percent(rule.allowance))}
          required
        />
        <Select
          label={t("Allowance from")}
          name="allowanceFrom"
          choices={saidOptions(ALLOWANCES, t)}
          defaultValue={rule.allowanceFrom ?? ""}
        />
      </div>
      <div className="ui-form-row">
        <NumberInput
          label={t("Rounded up to")}
          name="step"
          min={0}
          defaultValue={String(rule.step)}
          required
        />
        <Select
          label={t("Rounded over")}
          name="level"
          choices={LEVELS.map((l) => ({
            ...l,
            label: t(l.label),
            disabled: l.value === "run" && meaning?.perRun === false,
          }))}
          defaultValue={rule.level}
        />
        <Select
          label={t("Counted in")}
          name="measure"
          choices={[
            { value: "", label: t("pieces as sold") },
            { value: "m", label: t("metres of what it holds") },
            { value: "g", label: t("grams of what it holds") },
          ]}
          defaultValue={rule.measure ?? ""}
        />
        <TextInput
          label={t("Source")}
          name="source"
          defaultValue={rule.source}
          required
          maxLength={200}
          hint={t("Maker's instructions, own practice, from memory")}
        />
      </div>
      <p className="text-quiet">
        {t("It applies when all of these hold; nothing ticked in a list: always.")}
      </p>
      <div className="ui-form-row">
        <Ticks label={t("Scheme")} name="schemes" all={plain(choices.schemes)} ticked={rule.when.schemes} />
        <Ticks
          label={t("Structure")}
          name="structures"
          all={choices.structures}
          ticked={rule.when.structures}
        />
        <Ticks
          label={t("Antenna mount")}
          name="mounts"
          all={plain(choices.mounts)}
          ticked={rule.when.mounts}
        />
        <Ticks
          label={t("Polarisation")}
          name="polarisations"
          all={plain(["V", "H"])}
          ticked={rule.when.polarisations}
        />
      </div>
      <Check label={t("In use")} name="enabled" value="yes" defaultChecked={rule.enabled} />
    </>
  );
}

function Ticks(props: {
  label: string;
  name: string;
  all: readonly { value: string; label: string }[];
  ticked?: readonly string[];
}) {
  const { t } = useWords();
  return (
    <FieldGroup label={props.label}>
      {props.all.map((o) => (
        <Check
          key={o.value}
          label={t(o.label)}
          name={props.name}
          value={o.value}
          defaultChecked={props.ticked?.includes(o.value) ?? false}
        />
      ))}
    </FieldGroup>
  );
}

/** 0.07 x 100 is 7.000000000000001. */
const percent = (share: number) => Math.round(share * 1e6) / 1e4;

/** The row as the fields say it; lib/takeoff's schema reads it on the server. */
function readRule(rule: TakeoffRule, form: FormData, ids: readonly string[]): RuleChange {
  const text = (name: string) => String(form.get(name) ?? "").trim();
  const number = (name: string) => (text(name) === "" ? null : Number(text(name)));
  const ticks = (name: string) => {
    const values = form.getAll(name).map(String);
    return values.length > 0 ? { [name]: values } : {};
  };
  const share = number("allowance");
  const row = {
    id: rule.id || newId(text("name"), ids),
    name: text("name"),
    ...(text("itemCode") ? { itemCode: text("itemCode") } : {}),
    category: text("category"),
    driver: text("driver"),
    factor: number("factor"),
    offset: number("offset"),
    allowance: share === null ? null : Math.round(share * 1e4) / 1e6,
    ...(text("allowanceFrom") ? { allowanceFrom: text("allowanceFrom") } : {}),
    ...(text("measure") ? { measure: text("measure") } : {}),
    step: number("step"),
    level: text("level"),
    when: { ...ticks("schemes"), ...ticks("structures"), ...ticks("mounts"), ...ticks("polarisations") },
    source: text("source"),
    enabled: form.get("enabled") === "yes",
  };
  return { rows: [row] };
}

function newId(name: string, ids: readonly string[]): string {
  const stem =
    name
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, "-")
      .replace(/^-|-$/g, "") || "row";
  let id = stem;
  for (let n = 2; ids.includes(id); n++) id = `${stem}-${n}`;
  return id;
}
