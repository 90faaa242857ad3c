"use client";

import { useState } from "react";
import { folded } from "@/lib/find";
import { Button } from "../Button";
import { Check } from "../Field";
import { formatNumber } from "../format";
import { useWords } from "../language/LanguageProvider";
import { Popover } from "../Popover";
import { type Column, choiceKey, namedValue } from "./columns";
import type { Engine } from "./engine";
import { compareValues } from "./narrow";
import { type TableView, withFilter } from "./view";

export interface FilterProps<Row extends object> {
  table: Engine<Row>;
  column: Column<Row>;
  view: TableView;
  change: (step: (view: TableView) => TableView) => void;
  locale: string;
}

/** More values than this get a search field of their own. */
const MANY = 12;
/** More lines than this help nobody: search instead. */
const MOST = 200;

/** Tick values of a column; each with the number of rows that the other filters leave. */
export function ChoiceFilter<Row extends object>(props: FilterProps<Row>) {
  const count = props.view.filters[props.column.id]?.oneOf?.length ?? 0;
  const header = useWords().t(props.column.header);
  return (
    <Popover label={count > 0 ? `${header} (${count})` : header} glyph="down" pressed={count > 0}>
      <ChoiceList {...props} />
    </Popover>
  );
}

// A component of its own: the counts are only worked out while the panel is open.
function ChoiceList<Row extends object>({ table, column, view, change, locale }: FilterProps<Row>) {
  const [part, setPart] = useState("");
  const { t } = useWords();
  const name = (key: string): string => namedValue(column, key, t);
  const ticked = view.filters[column.id]?.oneOf ?? [];
  const counts = new Map<string, number>();
  for (const [value, count] of table.getColumn(column.id)?.getFacetedUniqueValues() ?? []) {
    const key = choiceKey(value);
    counts.set(key, (counts.get(key) ?? 0) + count);
  }
  for (const key of ticked) if (!counts.has(key)) counts.set(key, 0);
  const all = [...counts].sort((a, b) => compareValues(a[0], b[0]));
  const list = all.filter(([key]) => folded(name(key)).includes(folded(part))).slice(0, MOST);
  return (
    <fieldset className="ui-fieldset">
      <legend>{t(column.header)}</legend>
      {all.length > MANY ? (
        <input
          className="ui-input mb-1"
          type="search"
          aria-label={t("Search values of {{column}}", { column: t(column.header) })}
          placeholder={t("Search values")}
          value={part}
          onChange={(event) => setPart(event.target.value)}
        />
      ) : null}
      {list.map(([key, count]) => (
        <Check
          key={key}
          label={key ? name(key) : <em>{t("No value")}</em>}
          count={formatNumber(count, 0, locale)}
          checked={ticked.includes(key)}
          onChange={(event) => {
            const oneOf = event.target.checked ? [...ticked, key] : ticked.filter((k) => k !== key);
            change((v) => withFilter(v, column.id, { oneOf }));
          }}
        />
      ))}
      {list.length === 0 ? <p className="text-quiet">{t("No value matches.")}</p> : null}
      {list.length === MOST ? (
        <p className="text-quiet">{t("The first {{most}}. Search to see others.", { most: MOST })}</p>
      ) : null}
    </fieldset>
  );
}

/** From and to, of numbers or dates; either may stay empty. */
export function RangeFilter<Row extends object>(props: FilterProps<Row>) {
  const { column, view } = props;
  const isOn = view.filters[column.id] !== undefined;
  const { t } = useWords();
  return (
    <Popover
      label={isOn ? t("{{column}} (set)", { column: t(column.header) }) : t(column.header)}
      glyph="down"
      pressed={isOn}
    >
      {(close) => <RangeForm {...props} close={close} />}
    </Popover>
  );
}

function RangeForm<Row extends object>(props: FilterProps<Row> & { close: () => void }) {
  const { table, column, view, change, close, locale } = props;
  const now = view.filters[column.id];
  const { t } = useWords();
  const isDate = column.kind === "date";
  const span = isDate ? undefined : table.getColumn(column.id)?.getFacetedMinMaxValues();
  return (
    <form
      className="ui-form"
      action={(form) => {
        const text = (name: string): string | undefined => String(form.get(name) ?? "").trim() || undefined;
        change((v) => withFilter(v, column.id, { from: text("from"), to: text("to") }));
        close();
      }}
    >
      <fieldset className="ui-fieldset grid gap-2">
        <legend>
          {t(column.header)} {column.unit ? <span className="ui-unit">{t(column.unit)}</span> : null}
        </legend>
        {(["from", "to"] as const).map((end, i) => (
          <label key={end} className="ui-field">
            <span className="ui-field-hint">{end === "from" ? t("From (range)") : t("To (range)")}</span>
            <input
              className="ui-input"
              name={end}
              type={isDate ? "date" : "number"}
              step="any"
              defaultValue={now?.[end]}
              placeholder={span ? formatNumber(span[i], column.digits ?? 0, locale) : undefined}
            />
          </label>
        ))}
      </fieldset>
      <div className="ui-form-actions">
        <Button type="submit" kind="primary" size="small">
          {t("Apply")}
        </Button>
        <Button
          size="small"
          onClick={() => {
            change((v) => withFilter(v, column.id, {}));
            close();
          }}
        >
          {t("Any")}
        </Button>
      </div>
    </form>
  );
}
