/** Several visits of a stored plan moved as one: by days, to a crew, or both. */
import { phrase } from "@/lib/phrase";
import { ok, type Problem, type Result, refused, sentences } from "@/lib/result";
import { addDays } from "@/lib/time";
import { isPlaced, type NamedMove, type PlanRow } from "./planEdit";

export interface GroupMove {
  visitIds: readonly string[];
  /** Calendar days later; negative = earlier. */
  byDays: number;
  /** Without it each visit keeps its crew, and so does the other end of joint work. */
  crewCode?: string;
}

/** Each visit's own move. Minutes of the day are kept, so that the order within a day is. All that stands in the way is named. */
export function movesOfGroup(rows: readonly PlanRow[], group: GroupMove): Result<NamedMove[], Problem> {
  if (group.byDays === 0 && group.crewCode === undefined) {
    return refused({
      path: "byDays",
      rule: "no-move",
      value: 0,
      ...sentences(
        phrase("Nothing is moved by 0 days with the same crew."),
        phrase("Give a number of days, or another crew."),
      ),
    });
  }
  const known = new Map(rows.map((row) => [row.visitId, row]));
  const moves: NamedMove[] = [];
  const problems: Problem[] = [];
  for (const visitId of group.visitIds) {
    const row = known.get(visitId);
    if (row && isPlaced(row)) {
      moves.push({
        visitId,
        crewCode: group.crewCode ?? row.crewCode,
        on: addDays(row.startOn, group.byDays),
        startMin: row.startMin,
        otherKeepsCrew: group.crewCode === undefined,
      });
    } else problems.push(noPlace(visitId, row !== undefined));
  }
  return problems.length > 0 ? refused(...problems) : ok(moves);
}

function noPlace(visitId: string, isKnown: boolean): Problem {
  return {
    path: "visitIds",
    rule: isKnown ? "not-placed" : "not-in-plan",
    value: visitId,
    ...sentences(
      isKnown
        ? phrase("{{visit}} has no place that it could be moved from.", { visit: visitId })
        : phrase("{{visit}} is not in this plan.", { visit: visitId }),
      phrase("Leave it out of the selection."),
    ),
  };
}
