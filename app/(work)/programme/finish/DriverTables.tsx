"use client";

import Link from "next/link";
import { type Column, DataTable } from "@/app/_ui/DataTable";
import { formatShare } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { RowLink } from "@/app/_ui/RowLink";
import type { Driver, VisitDriver } from "@/db/queries/risk";
import { english } from "@/lib/phrase";
import type { FinishByName } from "@/lib/programme";
import type { CalendarDate } from "@/lib/time";
import { hopPath, sitePath } from "../../hops/hopStates";
import { workPhrase } from "./words";

export interface HopFinishRow extends Pick<FinishByName, "p50On" | "p80On"> {
  hopCode: string;
  promisedOn?: CalendarDate;
  plannedOn?: CalendarDate;
  promiseMetShare?: number;
}

const SHARE_HINT = "Share of runs in which it lies on the chain that sets the programme's finish.";

function shareColumn<Row extends { share: number }>(hint: string): Column<Row> {
  return {
    id: "share",
    header: "Critical",
    unit: "%",
    kind: "number",
    digits: 1,
    value: (r) => r.share * 100,
    filter: "range",
    hint,
    width: 110,
  };
}

const VISIT_COLUMNS: readonly Column<VisitDriver>[] = [
  {
    id: "visit",
    header: "Visit",
    value: (r) => `${r.hopCode} ${english(workPhrase(r))}`,
    cell: (r) => (
      <>
        <RowLink href={hopPath(r.hopCode)}>{r.hopCode}</RowLink> <Work of={r} />
      </>
    ),
    isRowHeader: true,
    width: 220,
  },
  shareColumn(SHARE_HINT),
  { id: "crew", header: "Crew", value: (r) => r.crewCode, filter: "choice", width: 100 },
  {
    id: "site",
    header: "Site",
    value: (r) => r.siteCode,
    cell: (r) => <Link href={sitePath(r.siteCode)}>{r.siteCode}</Link>,
    width: 110,
  },
  { id: "start", header: "Planned start", kind: "date", value: (r) => r.startOn, filter: "range" },
  { id: "end", header: "Planned end", kind: "date", value: (r) => r.endOn, filter: "range" },
];

const CREW_COLUMNS: readonly Column<Driver>[] = [
  { id: "code", header: "Crew", value: (r) => r.code, isRowHeader: true, width: 120 },
  { id: "name", header: "Name", value: (r) => r.name, width: 220 },
  shareColumn("Share of runs in which one of its visits lies on the chain that sets the programme's finish."),
];

const ITEM_COLUMNS: readonly Column<Driver>[] = [
  {
    id: "code",
    header: "Item",
    value: (r) => r.code,
    cell: (r) => <RowLink href={`/stock/items/${encodeURIComponent(r.code)}`}>{r.code}</RowLink>,
    isRowHeader: true,
    width: 160,
  },
  { id: "name", header: "Name", value: (r) => r.name, width: 300 },
  shareColumn(
    "Share of runs in which a kit that waits for it begins the chain that sets the programme's finish.",
  ),
];

const HOP_COLUMNS: readonly Column<HopFinishRow>[] = [
  {
    id: "hop",
    header: "Hop",
    value: (r) => r.hopCode,
    cell: (r) => <RowLink href={hopPath(r.hopCode)}>{r.hopCode}</RowLink>,
    isRowHeader: true,
    width: 110,
  },
  { id: "promised", header: "Promised", kind: "date", value: (r) => r.promisedOn, filter: "range" },
  { id: "planned", header: "Planned", kind: "date", value: (r) => r.plannedOn, filter: "range" },
  { id: "p50", header: "P50", kind: "date", value: (r) => r.p50On, hint: "By then in one run of two." },
  { id: "p80", header: "P80", kind: "date", value: (r) => r.p80On, hint: "By then in four runs of five." },
  {
    id: "met",
    header: "Promise met",
    unit: "%",
    kind: "number",
    digits: 0,
    value: (r) => (r.promiseMetShare === undefined ? undefined : r.promiseMetShare * 100),
    cell: (r) => <Share of={r.promiseMetShare} />,
    filter: "range",
    hint: "Share of runs in which the hop ends on its promise or before.",
    width: 130,
  },
];

/** What a visit does, in the reader's language. */
function Work({ of }: { of: VisitDriver }) {
  return useWords().say(workPhrase(of));
}

function Share({ of }: { of: number | undefined }) {
  return formatShare(of, 0, useWords().locale);
}

/** Columns of all tables of the page: their heads and hints are said by the table. */
export const DRIVER_COLUMNS = [VISIT_COLUMNS, CREW_COLUMNS, ITEM_COLUMNS, HOP_COLUMNS] as const;

export function VisitDrivers({ rows }: { rows: readonly VisitDriver[] }) {
  const { t } = useWords();
  return (
    <DataTable
      label={t("Visits that drive the finish")}
      rows={rows}
      columns={VISIT_COLUMNS}
      rowId={(r) => r.visitId}
      rowHref={(r) => hopPath(r.hopCode)}
      rowWord={{ one: "visit", many: "visits" }}
      exportName="finish-visits"
    />
  );
}

export function CrewDrivers({ rows }: { rows: readonly Driver[] }) {
  const { t } = useWords();
  return (
    <DataTable
      label={t("Crews that drive the finish")}
      rows={rows}
      columns={CREW_COLUMNS}
      rowId={(r) => r.code}
      rowWord={{ one: "crew", many: "crews" }}
      exportName="finish-crews"
    />
  );
}

export function ItemDrivers({ rows }: { rows: readonly Driver[] }) {
  const { t } = useWords();
  return (
    <DataTable
      label={t("Kit items that drive the finish")}
      rows={rows}
      columns={ITEM_COLUMNS}
      rowId={(r) => r.code}
      rowHref={(r) => `/stock/items/${encodeURIComponent(r.code)}`}
      rowWord={{ one: "item", many: "items" }}
      exportName="finish-items"
      empty={
        <p className="px-4 py-3">{t("In no run does the chain begin with a kit that waits for an item.")}</p>
      }
    />
  );
}

export function HopFinishes({ rows }: { rows: readonly HopFinishRow[] }) {
  const { t } = useWords();
  return (
    <DataTable
      label={t("Finish of each hop")}
      rows={rows}
      columns={HOP_COLUMNS}
      rowId={(r) => r.hopCode}
      rowHref={(r) => hopPath(r.hopCode)}
      rowWord={{ one: "hop", many: "hops" }}
      exportName="finish-hops"
    />
  );
}
