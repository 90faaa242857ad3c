/** Visits that a crew left before the work was done: only what is left of them is planned again. */
import { minutesOf, type WorkSegment } from "@/lib/hours";
import type { ProgrammeVisit, WorkLeft } from "./types";
import { jointPartnerOf } from "./visits";

/**
 * The visits with what is left of those that were reported part done. The work goes on where it stopped, so the last
 * minutes stay with their work classes; coming back costs what the crew counted in. Joint work ends when both ends have
 * ended: the longer rest counts at either.
 *
 * @param left what the crews reported, by visit id
 */
export function withWorkLeft(
  visits: readonly ProgrammeVisit[],
  left: ReadonlyMap<string, Pick<WorkLeft, "leftMin">>,
): ProgrammeVisit[] {
  const open = new Set(visits.map((v) => v.id));
  return visits.map((visit) => {
    const own = left.get(visit.id)?.leftMin;
    const partner = jointPartnerOf({ visitId: visit.id, isJoint: visit.isJoint });
    if (partner === undefined || !open.has(partner)) return own === undefined ? visit : restOf(visit, own);
    const other = left.get(partner)?.leftMin;
    return own === undefined || other === undefined ? visit : restOf(visit, Math.max(own, other));
  });
}

function restOf(visit: ProgrammeVisit, leftMin: number): ProgrammeVisit {
  const segments = lastMinutes(visit.segments, leftMin);
  const durationMin = minutesOf(segments);
  return {
    ...visit,
    segments,
    durationMin,
    p80Min: (durationMin * visit.p80Min) / visit.durationMin,
  };
}

/** The end of the work, cut or drawn out to `leftMin` whole minutes; what is more than all of it lengthens the start. */
function lastMinutes(segments: readonly WorkSegment[], leftMin: number): WorkSegment[] {
  const rest: WorkSegment[] = [];
  let wanted = Math.max(1, Math.ceil(leftMin));
  for (const [i, segment] of [...segments.entries()].reverse()) {
    if (wanted <= 0) break;
    const durationMin = i === 0 ? wanted : Math.min(wanted, segment.durationMin);
    rest.unshift({ ...segment, durationMin });
    wanted -= durationMin;
  }
  return rest;
}
