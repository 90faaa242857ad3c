"use client";

import { Select, TextInput } from "@/app/_ui/Field";
import { English } from "@/app/_ui/language/English";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { Tag } from "@/app/_ui/StateMark";
import type { TableAnswers, TableHead } from "@/db/queries/imports";
import type { KindWords } from "../kinds";

export const CONFIDENCE = {
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
  const { t } = useWords();
  const { matching } = table;
  const choices = answers.choices ?? [];
  const choose = (choice: Choice) =>
    onChange({ ...answers, choices: [...choices.filter((c) => c.index !== choice.index), choice] });
  const fields = kind.columns.map((c) => ({
    value: c.key,
    label: c.required ? t("{{label}} (needed)", { label: c.label }) : c.label,
  }));

  return (
    <div className="grid gap-4">
      <ScrollRegion label={t("Columns of {{title}}", { title: table.fileName })}>
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              <th scope="col">{t("Column of the file")}</th>
              <th scope="col">{t("Fills the field")}</th>
              <th scope="col">{t("Unit of the file")}</th>
              <th scope="col">{t("How it was matched")}</th>
            </tr>
          </thead>
          <tbody>
            {table.header.map((header, index) => {
              const match = matching.columns.find((c) => c.index === index);
              const unread = matching.unmatched.find((u) => u.index === index);
              const chosen = choices.find((c) => c.index === index);
              const key = chosen ? (chosen.key ?? "") : (match?.key ?? "");
              const units = kind.columns.find((c) => c.key === key)?.units ?? [];
              const name = header || t("column {{no}}", { no: index + 1 });
              return (
                // biome-ignore lint/suspicious/noArrayIndexKey: the position is the column's identity
                <tr key={index}>
                  <th scope="row" data-label={t("Column of the file")}>
                    {name}
                  </th>
                  <td data-label={t("Fills the field")}>
                    <Select
                      label={t("Field for {{name}}", { name })}
                      hideLabel
                      empty={t("not read")}
                      value={key}
                      choices={fields}
                      onChange={(event) => choose({ index, key: event.target.value || null })}
                    />
                  </td>
                  <td data-label={t("Unit of the file")}>
                    {units.length > 1 ? (
                      <Select
                        label={t("Unit of {{name}}", { name })}
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
                  <td data-label={t("How it was matched")}>
                    {match && !chosen ? t(CONFIDENCE[match.confidence]) : null}
                    {chosen ? t(CONFIDENCE.chosen) : null}
                    {!chosen && unread ? <English>{unread.reason}</English> : null}
                    {match?.conversion ? (
                      <Tag tone="info">
                        <English>{match.conversion.text}</English>
                      </Tag>
                    ) : null}
                    {match?.note ? <English> {match.note}</English> : null}
                    {!chosen && unread?.suggestion ? (
                      <button
                        type="button"
                        className="ui-button"
                        data-kind="plain"
                        data-size="small"
                        onClick={() => choose({ index, key: unread.suggestion!.key })}
                      >
                        {t("Use as {{label}}", { label: unread.suggestion.label })}
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
          <legend>{t("One value for all rows, in place of a column that the file lacks")}</legend>
          <div className="grid gap-3 sm:grid-cols-2 xl:grid-cols-3">
            {matching.missing.map(({ key, label, required }) => (
              <TextInput
                key={key}
                label={required ? t("{{label}} (needed for new rows)", { label }) : label}
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
