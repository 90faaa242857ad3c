"use client";

import { Select, TextInput } from "@/app/_ui/Field";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { Tag } from "@/app/_ui/StateMark";
import type { TableAnswers, TableHead } from "@/db/queries/imports";
import type { KindWords } from "../kinds";

const CONFIDENCE = {
  exact: "by its exact name",
  alias: "by another known name",
  normalised: "by its name, but for case and spaces",
  unit: "by its name, in another unit",
  chosen: "chosen by you",
} as const;

interface ColumnMatchingProps {
  table: TableHead;
  kind: KindWords;
  answers: TableAnswers;
  onChange: (answers: TableAnswers) => void;
}

type Choice = NonNullable<TableAnswers["choices"]>[number];

/** Each column of the file and the field that it fills; every one can be changed. */
export function ColumnMatching({ table, kind, answers, onChange }: ColumnMatchingProps) {
  const { matching } = table;
  const choices = answers.choices ?? [];
  const choose = (choice: Choice) =>
    onChange({ ...answers, choices: [...choices.filter((c) => c.index !== choice.index), choice] });
  const fields = kind.columns.map((c) => ({
    value: c.key,
    label: c.required ? `${c.label} (needed)` : c.label,
  }));

  return (
    <div className="grid gap-4">
      <ScrollRegion label={`Columns of ${table.fileName}`}>
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              <th scope="col">Column of the file</th>
              <th scope="col">Fills the field</th>
              <th scope="col">Unit of the file</th>
              <th scope="col">How it was matched</th>
            </tr>
          </thead>
          <tbody>
            {table.header.map((header, index) => {
              const match = matching.columns.find((c) => c.index === index);
              const unread = matching.unmatched.find((u) => u.index === index);
              const chosen = choices.find((c) => c.index === index);
              const key = chosen ? (chosen.key ?? "") : (match?.key ?? "");
              const units = kind.columns.find((c) => c.key === key)?.units ?? [];
              const name = header || `column ${index + 1}`;
              return (
                // biome-ignore lint/suspicious/noArrayIndexKey: the position is the column's identity
                <tr key={index}>
                  <th scope="row" data-label="Column of the file">
                    {name}
                  </th>
                  <td data-label="Fills the field">
                    <Select
                      label={`Field for ${name}`}
                      hideLabel
                      empty="not read"
                      value={key}
                      choices={fields}
                      onChange={(event) => choose({ index, key: event.target.value || null })}
                    />
                  </td>
                  <td data-label="Unit of the file">
                    {units.length > 1 ? (
                      <Select
                        label={`Unit of ${name}`}
                        hideLabel
                        value={chosen?.unit ?? match?.conversion?.from ?? units[0]}
                        choices={units.map((u) => ({ value: u, label: u }))}
                        onChange={(event) =>
                          choose({ index, key, unit: event.target.value as Choice["unit"] })
                        }
                      />
                    ) : (
                      (units[0] ?? "")
                    )}
                  </td>
                  <td data-label="How it was matched">
                    {match && !chosen ? CONFIDENCE[match.confidence] : null}
                    {chosen ? CONFIDENCE.chosen : null}
                    {!chosen && unread ? unread.reason : null}
                    {match?.conversion ? <Tag tone="info">{match.conversion.text}</Tag> : null}
                    {match?.note ? ` ${match.note}` : null}
                    {!chosen && unread?.suggestion ? (
                      <button
                        type="button"
                        className="ui-button"
                        data-kind="plain"
                        data-size="small"
                        onClick={() => choose({ index, key: unread.suggestion!.key })}
                      >
                        Use as {unread.suggestion.label}
                      </button>
                    ) : null}
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </ScrollRegion>
      {matching.missing.length > 0 ? (
        <fieldset className="ui-fieldset grid gap-2">
          <legend>One value for all rows, in place of a column that the file lacks</legend>
          <div className="grid gap-3 sm:grid-cols-2 xl:grid-cols-3">
            {matching.missing.map(({ key, label, required }) => (
              <TextInput
                key={key}
                label={required ? `${label} (needed for new rows)` : label}
                placeholder={kind.columns.find((c) => c.key === key)?.example}
                value={answers.constants?.[key] ?? ""}
                onChange={(event) => {
                  const { [key]: _, ...others } = answers.constants ?? {};
                  const value = event.target.value;
                  onChange({ ...answers, constants: value ? { ...others, [key]: value } : others });
                }}
              />
            ))}
          </div>
        </fieldset>
      ) : null}
    </div>
  );
}
