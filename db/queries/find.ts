/** Everything that a person may look for by a few letters, by what it is read from: kept until that changes. */
import { type Findable, findable } from "@/lib/find";
import type { CalendarDate } from "@/lib/time";
import { type DataGroup, remembered } from "../dataState";
import type { Db } from "../open";
import { neverIssued } from "./kitShort";
import { planInForce } from "./plans";
import { withdrawnVisits } from "./withdrawn";

export type FoundKind = "site" | "hop" | "crew" | "item" | "order" | "drum" | "serial" | "kit" | "visit";

export interface FoundThing extends Findable {
  kind: FoundKind;
  code: string;
  /** What it is called besides, or where it stands; '' = nothing besides its state. */
  detail: string;
  /** A word of ours, in English: a screen says it in its reader's language. */
  state?: string;
  /** Its day: when it is picked, when it starts. */
  on?: CalendarDate;
  siteCode?: string;
  hopCode?: string;
  crewCode?: string | null;
  /** Of a serial: the visit with whose kit it left, as long as nothing else was written of it. */
  leftWith?: string | null;
  /** Of a revisit that is not needed any more. */
  isWithdrawn?: true;
}

interface Row {
  code: string;
  detail: string | null;
  state?: string | null;
  words?: string | null;
  onDay?: CalendarDate | null;
  siteCode?: string;
  hopCode?: string;
  crewCode?: string | null;
  leftWith?: string | null;
}

interface Source {
  kind: FoundKind;
  groups: readonly DataGroup[];
  sql: string;
  /** Reads visits of the plan in force, whose id is the statement's parameter. */
  ofPlan?: true;
  /** Rows that are left out, by their state. */
  isGone?: (state: string, isWithdrawn: boolean) => boolean;
}

const SOURCES: readonly Source[] = [
  {
    kind: "site",
    groups: ["design"],
    sql: "SELECT code, name AS detail, region AS words, code AS siteCode FROM site ORDER BY code",
  },
  {
    kind: "hop",
    groups: ["design"],
    sql: `SELECT h.code, n.site_code || ' – ' || f.site_code AS detail, h.code AS hopCode
          FROM hop h JOIN link_end n ON n.hop_code = h.code AND n.side = 'near'
          JOIN link_end f ON f.hop_code = h.code AND f.side = 'far' ORDER BY h.code`,
  },
  {
    kind: "crew",
    groups: ["crews"],
    sql: "SELECT code, name AS detail, code AS crewCode FROM crew ORDER BY code",
  },
  { kind: "item", groups: ["design"], sql: "SELECT code, name AS detail FROM item ORDER BY code" },
  {
    kind: "order",
    groups: ["stock"],
    sql: "SELECT code, supplier AS detail, state FROM purchase_order ORDER BY code DESC",
  },
  {
    kind: "drum",
    groups: ["stock"],
    sql: "SELECT serial AS code, item_code AS detail FROM drum ORDER BY serial",
  },
  {
    kind: "serial",
    groups: ["stock"],
    // A radio that a crew hung may never have been in the ledger.
    sql: `SELECT m.serial AS code, m.item_code AS detail,
                 CASE WHEN m.kind = 'issue' THEN m.visit_id END AS leftWith
          FROM movement m WHERE m.serial IS NOT NULL
            AND m.id = (SELECT x.id FROM movement x WHERE x.serial = m.serial
                        ORDER BY x.effective_on DESC, x.id DESC LIMIT 1)
          UNION ALL
          SELECT DISTINCT serial, item_code, NULL FROM hung_unit
          WHERE serial NOT IN (SELECT serial FROM movement WHERE serial IS NOT NULL) ORDER BY code`,
  },
  {
    kind: "kit",
    groups: ["plan", "kits", "reports"],
    ofPlan: true,
    isGone: (state, isWithdrawn) => isWithdrawn && state === "planned",
    sql: `SELECT k.visit_id AS code, (SELECT r.remedy FROM revisit r WHERE r.visit_id = k.visit_id) AS detail, k.state, k.pick_on AS onDay, 'pick ' || v.site_code AS words,
                 v.hop_code AS hopCode, v.crew_code AS crewCode
          FROM kit k JOIN plan_visit v ON v.plan_id = k.plan_id AND v.visit_id = k.visit_id
          WHERE k.plan_id = ? AND NOT (k.state = 'planned' AND ${neverIssued("k")}) ORDER BY k.pick_on, k.visit_id`,
  },
  {
    kind: "visit",
    groups: ["plan", "reports"],
    ofPlan: true,
    sql: `SELECT visit_id AS code, crew_code AS detail, CASE WHEN crew_code IS NULL THEN 'not placed' END AS state, start_on AS onDay,
                 site_code AS words, hop_code AS hopCode, crew_code AS crewCode
          FROM plan_visit WHERE plan_id = ? ORDER BY start_on, visit_id`,
  },
];

/** All things, in the order of kinds in which an answer shows them. Shared between readers. */
export function findableThings(db: Db): readonly (readonly FoundThing[])[] {
  return SOURCES.map((source) =>
    remembered(db, `find ${source.kind}`, source.groups, () => read(db, source)),
  );
}

function read(db: Db, { kind, sql, ofPlan, isGone }: Source): readonly FoundThing[] {
  const plan = ofPlan ? planInForce(db) : undefined;
  if (ofPlan && !plan) return [];
  const withdrawn: ReadonlySet<string> = ofPlan ? withdrawnVisits(db) : new Set();
  const rows = (db.$client.prepare(sql).all(...(plan ? [plan.id] : [])) as Row[]).filter(
    (r) => !isGone?.(r.state ?? "", withdrawn.has(r.code)),
  );
  return rows.map(({ code, detail, state, words, onDay, ...of }) => ({
    ...of,
    ...(withdrawn.has(code) ? { isWithdrawn: true as const } : {}),
    kind,
    code,
    detail: detail ?? "",
    ...(state ? { state } : {}),
    on: onDay ?? undefined,
    ...findable(code, [detail, state, words, onDay].filter(Boolean).join(" ")),
  }));
}
