"use client";

import Link from "next/link";
import { useMemo } from "react";
import { type Column, DataTable } from "@/app/_ui/DataTable";
import { formatDate } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { T } from "@/app/_ui/language/T";
import { StateMark } from "@/app/_ui/StateMark";
import type { OnHandRow } from "@/db/queries/onHand";
import type { CalendarDate } from "@/lib/time";
import { itemPath, ledgerPath } from "./words";

/** "Good to 3 Mar": the last day of a lot. */
function GoodTo({ day }: { day: CalendarDate }) {
  const { t, locale } = useWords();
  return t("Good to {{day}}", { day: formatDate(day, "day", locale) });
}

export const COLUMNS: readonly Column<OnHandRow>[] = [
  {
    id: "item",
    header: "Item",
    value: (r) => r.itemCode,
    cell: (r) => <Link href={itemPath(r.itemCode)}>{r.itemCode}</Link>,
    isRowHeader: true,
    groupable: true,
    width: 150,
  },
  { id: "name", header: "Name", value: (r) => r.name, width: 220 },
  {
    id: "category",
    header: "Category",
    value: (r) => r.category,
    isSaid: true,
    filter: "choice",
    width: 130,
  },
  { id: "place", header: "Place", value: (r) => r.placeCode, filter: "choice", width: 110 },
  {
    id: "kind",
    header: "Kind of place",
    value: (r) => r.placeKind,
    isSaid: true,
    filter: "choice",
    startsHidden: true,
  },
  {
    id: "lot",
    header: "Lot or drum",
    value: (r) => r.drumSerial || r.lotCode,
    cell: (r) =>
      r.drumSerial ? <Link href={ledgerPath({ drum: r.drumSerial })}>{r.drumSerial}</Link> : r.lotCode || "–",
    width: 150,
  },
  {
    id: "quantity",
    header: "On hand",
    kind: "number",
    digits: 2,
    value: (r) => r.quantity,
    filter: "range",
    sums: true,
    width: 100,
  },
  { id: "unit", header: "Unit", value: (r) => r.unit, isSaid: true, filter: "choice", width: 80 },
  {
    id: "available",
    header: "Available",
    kind: "number",
    digits: 2,
    value: (r) => r.available,
    sums: true,
    hint: "Nothing of a lot that has expired.",
    width: 100,
  },
  { id: "expires", header: "Last day of use", kind: "date", value: (r) => r.expiresOn, filter: "range" },
  {
    id: "state",
    header: "State",
    value: (r) => (r.isExpired ? "expired" : "good"),
    isSaid: true,
    cell: (r) =>
      r.isExpired ? (
        <StateMark state="fail">
          <T>Expired, not available</T>
        </StateMark>
      ) : r.expiresOn ? (
        <StateMark state="dated">
          <GoodTo day={r.expiresOn} />
        </StateMark>
      ) : (
        <StateMark state="met">
          <T>Good</T>
        </StateMark>
      ),
    filter: "choice",
    width: 170,
    onCard: "beside title",
  },
  { id: "owner", header: "Owner", value: (r) => r.owner, isSaid: true, filter: "choice", width: 110 },
  {
    id: "value",
    header: "Value",
    kind: "number",
    digits: 2,
    value: (r) => r.valueMinor / 100,
    hint: "At the catalogue's price, in the item's currency.",
    startsHidden: true,
  },
  { id: "currency", header: "Currency", value: (r) => r.currency, filter: "choice", startsHidden: true },
];

export const ROW = { one: "row", many: "rows" };
const idOf = (r: OnHandRow): string => [r.itemCode, r.placeCode, r.lotCode, r.drumSerial, r.owner].join("|");
const hrefOf = (r: OnHandRow): string => itemPath(r.itemCode);

/** What lies where, by item, place, lot and drum. */
export function OnHand({ rowsJson }: { rowsJson: string }) {
  const { t } = useWords();
  const rows = useMemo(() => JSON.parse(rowsJson) as OnHandRow[], [rowsJson]);
  return (
    <DataTable
      label={t("On hand")}
      rows={rows}
      columns={COLUMNS}
      rowId={idOf}
      rowHref={hrefOf}
      rowWord={ROW}
      exportName="on-hand"
    />
  );
}
