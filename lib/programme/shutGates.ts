/** Visits that stand on the plan before their gate opens: the gate was moved, opened or added since the plan was made. */
import type { Gate } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";
import { unmetGates } from "./gates";
import { parseVisitId, SIDES } from "./visits";

export interface ShutGate {
  gate: Gate;
  /** All that are planned before the gate opens, the first of them first. */
  visits: readonly { visitId: string; startOn: CalendarDate }[];
}

/**
 * Gates of a hop that are not open when a visit begins, by the rule by which a plan is made (problem.ts): a date holds
 * the visits of its own end, a missing one all but the other end's install.
 *
 * @param visits of the hop, still to do
 */
export function shutGates(
  visits: readonly { visitId: string; startOn: CalendarDate | null }[],
  gates: readonly Gate[],
): ShutGate[] {
  return unmetGates(gates, SIDES).flatMap((gate): ShutGate[] => {
    const held = visits
      .flatMap(({ visitId, startOn }) => (startOn !== null ? [{ visitId, startOn }] : []))
      .filter((v) => holds(gate, v.visitId) && isShutOn(gate, v.startOn))
      .sort((a, b) => a.startOn.localeCompare(b.startOn) || a.visitId.localeCompare(b.visitId));
    return held.length > 0 ? [{ gate, visits: held }] : [];
  });
}

function holds(gate: Gate, visitId: string): boolean {
  const { kind, side } = parseVisitId(visitId) ?? {};
  return gate.side === undefined || gate.side === side || (gate.state === "open" && kind !== "install");
}

const isShutOn = ({ state, dueOn }: Gate, on: CalendarDate): boolean =>
  state === "open" || (dueOn !== undefined && dueOn > on);

/** Before it no work is done behind those gates; undefined = none of them has a date. */
export const lastOpening = (shut: readonly ShutGate[]): CalendarDate | undefined =>
  shut
    .flatMap(({ gate }) => (gate.state === "dated" ? (gate.dueOn ?? []) : []))
    .sort()
    .at(-1);
