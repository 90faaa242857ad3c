/** What finished ends used beside what the rules' rows counted for them. */
import type { UsedLine } from "@/lib/calibration";
import { parseVisitId } from "@/lib/programme";
import type { EndSide } from "@/lib/site";
import { type EndTakeoff, type TakeoffPolicy, type TakeoffRule, takeOff } from "@/lib/takeoff";
import { remembered } from "../dataState";
import type { Db } from "../open";
import { loadHops } from "./design";
import { loadTakeoffContext, rulesInForce } from "./programme";
import { doneVisits, STANDING } from "./reports";

export interface UsedMaterial {
  lines: readonly UsedLine[];
  /** Allowance in force by row, a figure of the policy where the row takes it from there. */
  inForce: ReadonlyMap<string, number>;
  rules: ReadonlyMap<string, TakeoffRule>;
  /** Ends whose reports say what they used. */
  ends: number;
  /** Lines whose item several rows ask for at an end: what each of them took cannot be told. */
  shared: number;
  rulesVersion: number;
}

export function allowanceOf(rule: TakeoffRule, policy: TakeoffPolicy): number {
  return rule.allowanceFrom ? policy[rule.allowanceFrom] : rule.allowance;
}

export function loadUsedMaterial(db: Db): UsedMaterial {
  return remembered(db, "used material", ["design", "reports", "rules"], () => readUsedMaterial(db));
}

function readUsedMaterial(db: Db): UsedMaterial {
  const inForce = rulesInForce(db);
  const context = loadTakeoffContext(db, inForce);
  const rules = new Map(inForce.takeoffRules.map((r) => [r.id, r]));
  const allowances = new Map(
    [...rules.values()].map((r) => [r.id, allowanceOf(r, inForce.takeoffPolicy)] as const),
  );
  const used = usesByEnd(db);
  const hopCodes = [...new Set([...used.values()].map((e) => e.hopCode))];
  const hops = new Map(loadHops(db, hopCodes).map((h) => [h.code, takeOff(h, context)]));
  let shared = 0;
  const lines: UsedLine[] = [];
  for (const { hopCode, side, items } of used.values()) {
    const taken = hops.get(hopCode)?.[side];
    if (!taken) continue;
    const byItem = linesByItem(taken);
    for (const [itemCode, quantity] of items) {
      const own = byItem.get(itemCode) ?? [];
      if (own.length > 1) shared++;
      const [line] = own;
      if (!line || own.length > 1) continue;
      const allowance = allowances.get(line.ruleId);
      if (allowance === undefined || isOneOpened(line, quantity)) continue;
      lines.push({ hopCode, ruleId: line.ruleId, counted: line.exact / (1 + allowance), used: quantity });
    }
  }
  return {
    lines,
    inForce: allowances,
    rules,
    ends: used.size,
    shared,
    rulesVersion: inForce.versions["takeoff rules"] ?? 0,
  };
}

/**
 * Less than one whole unit was planned, and one was opened: what is opened counts as used, so that it tells nothing of
 * the allowance and is no error either. The report's form proposes just that.
 */
const isOneOpened = ({ unit, exact }: { unit: string; exact: number }, used: number): boolean =>
  unit !== "m" && exact < 1 && used === 1;

function linesByItem(taken: EndTakeoff): Map<string, EndTakeoff["lines"][number][]> {
  const byItem = new Map<string, EndTakeoff["lines"][number][]>();
  for (const line of taken.lines) {
    const list = byItem.get(line.itemCode);
    if (list) list.push(line);
    else byItem.set(line.itemCode, [line]);
  }
  return byItem;
}

interface EndUse {
  hopCode: string;
  side: EndSide;
  items: Map<string, number>;
}

/** Uses of all reports that count of an end whose install is done; runs of cable are not rows of the rules. */
function usesByEnd(db: Db): Map<string, EndUse> {
  const done = doneVisits(db);
  const rows = db.$client
    .prepare(
      `SELECT v.visit_id AS visitId, u.item_code AS itemCode, SUM(u.used_c) / 100.0 AS quantity
       FROM report_use u JOIN visit_report v ON v.id = u.report_id
       WHERE u.run_id IS NULL AND u.used_c > 0 AND ${STANDING} GROUP BY v.visit_id, u.item_code ORDER BY v.visit_id, u.item_code`,
    )
    .all() as { visitId: string; itemCode: string; quantity: number }[];
  const ends = new Map<string, EndUse>();
  for (const { visitId, itemCode, quantity } of rows) {
    const visit = parseVisitId(visitId);
    if (!visit || !done.has(`${visit.hopCode}/${visit.side}/install`)) continue;
    const key = `${visit.hopCode}/${visit.side}`;
    const end = ends.get(key) ?? { hopCode: visit.hopCode, side: visit.side, items: new Map() };
    ends.set(key, end);
    end.items.set(itemCode, (end.items.get(itemCode) ?? 0) + quantity);
  }
  return ends;
}
