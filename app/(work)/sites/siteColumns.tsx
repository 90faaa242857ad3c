import Link from "next/link";
import type { Column } from "@/app/_ui/DataTable";
import type { SiteListRow } from "@/db/queries/siteViews";
import { HopStateMark } from "../hops/HopStateMark";
import { STRUCTURE_WORDS, sitePath } from "../hops/hopStates";
import { CheckMarks, checkWord } from "./checkMarks";

export const SNAGS = ["no coordinate", "no earthing bar", "earthing bar not surveyed"] as const;

/** What is missing before the site can be planned in full. */
export function snagOf(row: Pick<SiteListRow, "latDeg" | "hasEarthingBar">): string | null {
  if (row.latDeg === null) return SNAGS[0];
  if (row.hasEarthingBar === false) return SNAGS[1];
  return row.hasEarthingBar === null ? SNAGS[2] : null;
}

export const SITE_COLUMNS: readonly Column<SiteListRow>[] = [
  {
    id: "code",
    header: "Site",
    value: (r) => r.code,
    cell: (r) => <Link href={sitePath(r.code)}>{r.code}</Link>,
    isRowHeader: true,
    width: 96,
  },
  { id: "name", header: "Name", value: (r) => r.name, width: 150 },
  {
    id: "state",
    isSaid: true,
    header: "State",
    value: (r) => r.state,
    cell: (r) => <HopStateMark state={r.state} />,
    filter: "choice",
    hint: "The worst state among the site's hops, by the plan in force.",
    width: 132,
    onCard: "beside title",
  },
  { id: "region", header: "Region", value: (r) => r.region, filter: "choice", width: 130 },
  {
    id: "structure",
    isSaid: true,
    header: "Structure",
    value: (r) => STRUCTURE_WORDS[r.structure],
    filter: "choice",
    width: 124,
  },
  {
    id: "height",
    header: "Height",
    unit: "m",
    kind: "number",
    digits: 1,
    value: (r) => r.heightM,
    filter: "range",
    width: 116,
  },
  { id: "ends", header: "Ends", kind: "number", value: (r) => r.endCount, sums: true, width: 84 },
  { id: "hops", header: "Hops", kind: "number", value: (r) => r.hopCount, filter: "range", width: 92 },
  {
    id: "next",
    header: "Next visit",
    kind: "date",
    value: (r) => r.nextVisitOn,
    filter: "range",
    hint: "First day at the site by the plan in force, from today on.",
    width: 156,
  },
  {
    id: "checks",
    isSaid: true,
    header: "Design checks",
    value: (r) => (r.endCount === 0 ? "" : checkWord(r.failCount, r.warnCount)),
    cell: (r) => (r.endCount === 0 ? "–" : <CheckMarks fails={r.failCount} warns={r.warnCount} />),
    filter: "choice",
    width: 170,
  },
  {
    id: "gates",
    header: "Open gates",
    kind: "number",
    value: (r) => r.openGates,
    filter: "range",
    hint: "Gates of this site's ends that have no date.",
    width: 96,
  },
  { id: "snag", isSaid: true, header: "Snag", value: snagOf, filter: "choice", width: 170 },
  {
    id: "fails",
    header: "Failed checks",
    kind: "number",
    value: (r) => r.failCount,
    startsHidden: true,
    onCard: "left out",
  },
  {
    id: "warns",
    header: "To check",
    kind: "number",
    value: (r) => r.warnCount,
    startsHidden: true,
    onCard: "left out",
  },
];
