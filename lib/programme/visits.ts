/** The visits of a hop: an install at each end, then both ends together for alignment and acceptance. */
import type { RunWanted } from "@/lib/drums";
import { type EndEstimate, minutesOf } from "@/lib/hours";
import type { EndSide, Hop, LinkEnd } from "@/lib/site";
import type { EndTakeoff, HopTakeoff, TakeoffLine } from "@/lib/takeoff";
import type { KitNeedLine, ProgrammeVisit } from "./types";

export const SIDES: readonly EndSide[] = ["near", "far"];

export type VisitWork = "install" | "alignment";

/** @param part 1 for the first or only visit of the work, 2 for the second ... */
export function visitIdOf(hopCode: string, side: EndSide, kind: VisitWork, part = 1): string {
  return `${hopCode}/${side}/${kind}${part > 1 ? `-${part}` : ""}`;
}

export interface NamedWork {
  hopCode: string;
  side: EndSide;
  kind: VisitWork;
  part: number;
}

/** What a visit id says; undefined when the text is none. */
export function parseVisitId(id: string): NamedWork | undefined {
  const m = /^(.+)\/(near|far)\/(install|alignment)(?:-([2-9]))?$/.exec(id);
  return m
    ? { hopCode: m[1]!, side: m[2] as EndSide, kind: m[3] as VisitWork, part: Number(m[4] ?? 1) }
    : undefined;
}

/** The same work at the other end of the hop: of joint work, the visit that is done at the same time. */
export function otherEndOf({ hopCode, side, kind, part }: NamedWork): string {
  return visitIdOf(hopCode, side === "near" ? "far" : "near", kind, part);
}

/**
 * What goes into the install kit of an end. Cable is listed run by run, since each run is one piece; lines that
 * round only over an order keep their exact quantity (the pick list rounds what is put in the box).
 */
export function kitLinesOf(takeoff: EndTakeoff): KitNeedLine[] {
  const cables = new Set(takeoff.runs.map((r) => r.cableCode));
  const lines = takeoff.lines.filter((l) => !cables.has(l.itemCode) && l.exact > 0).map(needLine);
  const runs = takeoff.runs.map(
    (r): KitNeedLine => ({
      itemCode: r.cableCode,
      name: `IF cable run ${r.oduLabel} (${r.role}), one piece`,
      quantity: r.cutM,
      unit: "m",
      reason: `${r.cutM.toFixed(1)} m = ${r.routeM.toFixed(1)} route + ${(r.cutM - r.routeM).toFixed(1)} surplus`,
      runId: r.id,
    }),
  );
  return [...runs, ...lines];
}

function needLine(l: TakeoffLine): KitNeedLine {
  return {
    itemCode: l.itemCode,
    name: l.name,
    quantity: l.level === "order" ? l.exact : l.quantity,
    unit: l.unit,
    reason: l.reason,
  };
}

function runsOf(hop: Hop, end: LinkEnd, takeoff: EndTakeoff): Omit<RunWanted, "neededOn">[] {
  return takeoff.runs.map((r) => ({
    id: r.id,
    cableCode: r.cableCode,
    lengthCm: Math.round(r.cutM * 100),
    hopId: hop.id,
    endId: end.id,
    siteId: end.siteId,
    label: `${hop.code} ${end.side} ${r.oduLabel} ${r.role}`,
  }));
}

/** The visits of a hop: the two installs, then both ends of the alignment, part by part where it takes several days. */
export function visitsOf(
  hop: Hop,
  takeoff: HopTakeoff,
  estimates: { near: EndEstimate; far: EndEstimate; alignment: EndEstimate },
): ProgrammeVisit[] {
  const installs = SIDES.map((side): ProgrammeVisit => {
    const end = hop[side];
    const taken = takeoff[side];
    const estimate = estimates[side];
    return {
      id: visitIdOf(hop.code, side, "install"),
      hopCode: hop.code,
      side,
      siteCode: end.siteId,
      kind: "install",
      part: 1,
      segments: estimate.segments,
      durationMin: estimate.durationMin,
      p80Min: estimate.p80Min,
      lines: kitLinesOf(taken),
      runs: runsOf(hop, end, taken),
      massKg: taken.massKg,
      volumeL: taken.volumeL,
    };
  });
  const { alignment } = estimates;
  const parts = alignment.parts ?? [alignment.segments];
  const alignments = parts.flatMap((segments, i) => {
    const durationMin = alignment.parts ? minutesOf(segments) : alignment.durationMin;
    return SIDES.map(
      (side): ProgrammeVisit => ({
        id: visitIdOf(hop.code, side, "alignment", i + 1),
        hopCode: hop.code,
        side,
        siteCode: hop[side].siteId,
        kind: "alignment",
        part: i + 1,
        segments,
        durationMin,
        p80Min: (durationMin * alignment.p80Min) / alignment.durationMin,
        lines: [],
        runs: [],
        massKg: 0,
        volumeL: 0,
      }),
    );
  });
  return [...installs, ...alignments];
}
