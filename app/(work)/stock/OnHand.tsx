"use client";

import Link from "next/link";
import { useMemo } from "react";
import { type Column, DataTable } from "@/app/_ui/DataTable";
import { formatDate } from "@/app/_ui/format";
import { StateMark } from "@/app/_ui/StateMark";
import type { OnHandRow } from "@/db/queries/stockViews";
import { itemPath, ledgerPath } from "./words";

const COLUMNS: readonly Column<OnHandRow>[] = [
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
  { id: "category", header: "Category", value: (r) => r.category, filter: "choice", width: 130 },
  { id: "place", header: "Place", value: (r) => r.placeCode, filter: "choice", width: 110 },
  { id: "kind", header: "Kind of place", value: (r) => r.placeKind, filter: "choice", startsHidden: true },
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
  { id: "unit", header: "Unit", value: (r) => r.unit, filter: "choice", width: 80 },
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
    cell: (r) =>
      r.isExpired ? (
        <StateMark state="fail">Expired, not available</StateMark>
      ) : r.expiresOn ? (
        <StateMark state="dated">Good to {formatDate(r.expiresOn, "day")}</StateMark>
      ) : (
        <StateMark state="met">Good</StateMark>
      ),
    filter: "choice",
    width: 170,
    onCard: "beside title",
  },
  { id: "owner", header: "Owner", value: (r) => r.owner, filter: "choice", width: 110 },
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

const ROW = { one: "row", many: "rows" };
const idOf = (r: OnHandRow): string => [r.itemCode, r.placeCode, r.lotCode, r.drumSerial, r.owner].join("|");
const hrefOf = (r: OnHandRow): string => itemPath(r.itemCode);

/** What lies where, by item, place, lot and drum. */
export function OnHand({ rowsJson }: { rowsJson: string }) {
  const rows = useMemo(() => JSON.parse(rowsJson) as OnHandRow[], [rowsJson]);
  return (
    <DataTable
      label="On hand"
      rows={rows}
      columns={COLUMNS}
      rowId={idOf}
      rowHref={hrefOf}
      rowWord={ROW}
      exportName="on-hand"
    />
  );
}
