import type { PlanEdit } from "./edit";
import type { UnplacedVisit } from "./types";

export function explainUnplaced({ model: m, state: s }: PlanEdit): UnplacedVisit[] {
  const list: UnplacedVisit[] = [];
  for (let v = 0; v < m.visitCount; v++) {
    if (s.crewOf[v]! >= 0) continue;
    const reason = m.problem.visits[v]!.blockedBy;
    list.push({ visit: v, rule: reason ?? "no place", detail: reason ?? "no place was found" });
  }
  return list;
}
