import Link from "next/link";
import type { Column } from "@/app/_ui/DataTable";
import { formatDate } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { T } from "@/app/_ui/language/T";
import type { HopListRow } from "@/db/queries/siteViews";
import { HopStateMark } from "../hops/HopStateMark";
import { hopPath, isHeldByGate, sitePath } from "../hops/hopStates";
import { CheckMarks, checkWord } from "./checkMarks";

function SiteLink({ code, name }: { code: string | null; name: string | null }) {
  if (code === null)
    return (
      <span className="text-quiet">
        <T>end missing</T>
      </span>
    );
  return (
    <Link href={sitePath(code)} title={name ?? undefined}>
      {code}
    </Link>
  );
}

/** The day from which the days late are counted: where a gate opens after the planned one, that one. */
function PlannedDay({ of }: { of: HopListRow }) {
  const { t, locale } = useWords();
  const day = (on: HopListRow["plannedOn"]) => formatDate(on, "day", locale);
  if (of.doneOn !== null || !isHeldByGate(of)) return formatDate(of.doneOn ?? of.plannedOn, "full", locale);
  return (
    <span title={t("planned {{day}}, before its gate", { day: day(of.plannedOn) })}>
      {t("not before {{day}}", { day: day(of.gateOn) })}
    </span>
  );
}

/** A hop as the list shows it: the server says what holds it, so that the browser needs no texts of plans for it. */
export interface ListedHop extends HopListRow {
  /** In the reader's language; `heldBy` stays English for the export. */
  heldBySaid: string | null;
}

/** What is still to do comes first: who opens the list looks for work, not for what is behind. */
export const finishedLast = <Row extends Pick<HopListRow, "state">>(hops: readonly Row[]): Row[] => [
  ...hops.filter((h) => h.state !== "done"),
  ...hops.filter((h) => h.state === "done"),
];

export const HOP_COLUMNS: readonly Column<ListedHop>[] = [
  {
    id: "code",
    header: "Hop",
    value: (r) => r.code,
    cell: (r) => <Link href={hopPath(r.code)}>{r.code}</Link>,
    isRowHeader: true,
    width: 96,
  },
  {
    id: "state",
    isSaid: true,
    header: "State",
    value: (r) => r.state,
    cell: (r) => <HopStateMark state={r.state} />,
    filter: "choice",
    width: 150,
    onCard: "beside title",
  },
  {
    id: "promised",
    header: "Promised",
    kind: "date",
    value: (r) => r.promisedOn,
    filter: "range",
    width: 156,
  },
  {
    id: "planned",
    header: "Planned",
    kind: "date",
    value: (r) => r.doneOn ?? (isHeldByGate(r) ? r.gateOn : r.plannedOn),
    cell: (r) => <PlannedDay of={r} />,
    filter: "range",
    hint: "Day of the alignment by the plan in force, or of a gate that opens after it; or the day on which it was done.",
    width: 156,
  },
  {
    id: "late",
    header: "Days late",
    kind: "number",
    value: (r) => r.daysLate,
    filter: "range",
    hint: "Planned or done, or let in by a gate that the plan does not know, against the promise; below nought = early.",
    width: 92,
  },
  {
    id: "p80",
    header: "P80",
    kind: "date",
    value: (r) => r.p80On,
    hint: "Not later in four of five runs of the plan through drawn hours and past weather.",
    width: 156,
  },
  {
    // Before what the design says: whoever looks through held hops must not scroll for the reason.
    id: "held",
    header: "Held by",
    value: (r) => r.heldBy,
    said: (r) => r.heldBySaid,
    cell: (r) => (r.heldBySaid ? <span title={r.heldBySaid}>{r.heldBySaid}</span> : "–"),
    width: 570,
  },
  { id: "scheme", isSaid: true, header: "Scheme", value: (r) => r.scheme, filter: "choice", width: 196 },
  {
    id: "band",
    header: "Band",
    unit: "GHz",
    kind: "number",
    digits: 0,
    value: (r) => r.bandGhz,
    filter: "range",
    groupable: true,
    width: 84,
  },
  {
    id: "near",
    header: "Near end",
    value: (r) => r.nearSite,
    cell: (r) => <SiteLink code={r.nearSite} name={r.nearName} />,
    width: 100,
  },
  {
    id: "far",
    header: "Far end",
    value: (r) => r.farSite,
    cell: (r) => <SiteLink code={r.farSite} name={r.farName} />,
    width: 100,
  },
  {
    id: "length",
    header: "Length",
    unit: "km",
    kind: "number",
    digits: 2,
    value: (r) => r.lengthKm,
    filter: "range",
    width: 92,
  },
  {
    id: "checks",
    isSaid: true,
    header: "Design checks",
    value: (r) => checkWord(r.failCount, r.warnCount),
    cell: (r) => <CheckMarks fails={r.failCount} warns={r.warnCount} />,
    filter: "choice",
    width: 170,
  },
  {
    id: "cable",
    header: "Cable",
    unit: "m",
    kind: "number",
    digits: 1,
    value: (r) => r.cableM,
    sums: true,
    width: 124,
  },
  {
    id: "hours",
    header: "Hours",
    unit: "h",
    kind: "number",
    digits: 1,
    value: (r) => (r.workMin === null ? null : r.workMin / 60),
    sums: true,
    hint: "Both installs and the alignment visit of one crew, PERT mean, without weather or travel.",
    width: 84,
  },
  { id: "region", header: "Region", value: (r) => r.region, filter: "choice", startsHidden: true },
  { id: "gates", header: "Open gates", kind: "number", value: (r) => r.openGates, startsHidden: true },
];
