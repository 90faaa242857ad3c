"use client";

import { useMemo, useState } from "react";
import { Button } from "@/app/_ui/Button";
import { type Column, DataTable } from "@/app/_ui/DataTable";
import { formatNumber } from "@/app/_ui/format";
import { English } from "@/app/_ui/language/English";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { SaidSource } from "@/app/_ui/language/SaidSource";
import type { Words } from "@/app/_ui/language/words";
import { Panel } from "@/app/_ui/Panel";
import type { TakeoffRule } from "@/lib/takeoff";
import { LEVEL_WORDS } from "../sites/levelWords";
import { EMPTY_RULE, type RuleChoices, RuleDialog } from "./RuleDialog";

export interface RuleTableProps {
  rules: readonly TakeoffRule[];
  basedOn: number;
  mayEdit: boolean;
  choices: RuleChoices;
}

function whenWords(when: TakeoffRule["when"], { t }: Words): string {
  const parts = Object.values(when).flatMap((list) =>
    list?.length ? [list.map((value) => t(value)).join(` ${t("or")} `)] : [],
  );
  return parts.join("; ") || t("always");
}

const allowanceWords = (r: TakeoffRule, words: Words) =>
  r.allowanceFrom
    ? r.allowanceFrom === "connectorLoss"
      ? words.t("policy: connectors spoilt")
      : words.t("policy: ties lost")
    : `${Math.round(r.allowance * 1e4) / 100} %`;

/** The take-off table: one row per rule, changed in a dialog. */
export function RuleTable({ rules, basedOn, mayEdit, choices }: RuleTableProps) {
  const words = useWords();
  const { t, locale } = words;
  const [open, setOpen] = useState<TakeoffRule>();
  const columns = useMemo(
    (): readonly Column<TakeoffRule>[] => [
      {
        id: "name",
        header: "Row",
        value: (r) => r.name,
        cell: mayEdit
          ? (r) => (
              <button type="button" className="ui-link-button text-left underline" onClick={() => setOpen(r)}>
                <English>{r.name}</English>
              </button>
            )
          : (r) => <English>{r.name}</English>,
        isRowHeader: true,
        width: 270,
      },
      {
        id: "item",
        header: "Item",
        value: (r) => r.itemCode ?? t("fitted {{category}}", { category: t(r.category) }),
        width: 150,
      },
      {
        id: "category",
        isSaid: true,
        header: "Category",
        value: (r) => r.category,
        filter: "choice",
        startsHidden: true,
      },
      { id: "driver", isSaid: true, header: "Driver", value: (r) => r.driver, filter: "choice", width: 160 },
      {
        id: "factor",
        header: "Factor",
        value: (r) => r.factor,
        cell: (r) => formatNumber(r.factor, 4, locale),
        kind: "number",
        digits: 4,
        width: 84,
      },
      {
        id: "offset",
        header: "Offset",
        value: (r) => r.offset,
        cell: (r) => formatNumber(r.offset, 3, locale),
        kind: "number",
        digits: 3,
        width: 116,
      },
      { id: "allowance", header: "Allowance", value: (r) => allowanceWords(r, words), width: 120 },
      {
        id: "step",
        header: "Step",
        value: (r) => r.step,
        cell: (r) => formatNumber(r.step, 3, locale),
        kind: "number",
        digits: 3,
        width: 72,
      },
      {
        id: "level",
        isSaid: LEVEL_WORDS,
        header: "Rounded over",
        value: (r) => r.level,
        filter: "choice",
        width: 112,
      },
      { id: "when", header: "When", value: (r) => whenWords(r.when, words), width: 150 },
      {
        id: "source",
        header: "Source",
        value: (r) => r.source,
        isSaid: true,
        cell: (r) => <SaidSource text={r.source} />,
        width: 150,
      },
      { id: "enabled", header: "In use", value: (r) => r.enabled, kind: "yes/no", filter: "choice" },
    ],
    [mayEdit, words, t, locale],
  );
  return (
    <Panel flush>
      <DataTable
        label={t("Take-off rows")}
        rows={rules}
        columns={columns}
        rowId={(r) => r.id}
        onOpen={mayEdit ? setOpen : undefined}
        rowWord={{ one: "row", many: "rows" }}
        exportName="take-off-rules"
        tools={
          mayEdit ? (
            <Button kind="primary" size="small" onClick={() => setOpen(EMPTY_RULE)}>
              {t("Add a row")}
            </Button>
          ) : undefined
        }
      />
      <RuleDialog
        basedOn={basedOn}
        rule={open}
        ids={rules.map((r) => r.id)}
        choices={choices}
        onClose={() => setOpen(undefined)}
      />
    </Panel>
  );
}
