/** The visits of a hop: an install at each end, the alignment, the acceptance, and what failed readings ask for. */
import type { Remedy } from "@/lib/acceptance";
import type { RunWanted } from "@/lib/drums";
import { type EndEstimate, minutesOf } from "@/lib/hours";
import { english, phrase } from "@/lib/phrase";
import type { CatalogueItem, EndSide, Hop, ItemCategory, LinkEnd } from "@/lib/site";
import { type EndTakeoff, type HopTakeoff, NEXT_REASON, type TakeoffLine } from "@/lib/takeoff";
import { type NamedWork, parseVisitId, SIDES, type VisitWork, visitIdOf, visitPhrase } from "@/lib/visitIds";
import type { KitNeedLine, ProgrammeVisit, Revisit } from "./types";

export { type NamedWork, parseVisitId, SIDES, type VisitWork, visitIdOf, visitPhrase };

/** The same work at the other end of the hop. */
function otherEndOf({ hopCode, side, kind, part }: NamedWork): string {
  return visitIdOf(hopCode, side === "near" ? "far" : "near", kind, part);
}

/** Of joint work the visit at the other end, at the same time; undefined = it is done at one end. */
export function jointPartnerOf({
  visitId,
  isJoint,
}: {
  visitId: string;
  isJoint: boolean;
}): string | undefined {
  const named = isJoint ? parseVisitId(visitId) : undefined;
  return named && otherEndOf(named);
}

/** The name of a run's line in a kit; plans keep it as text. */
export const RUN_LINE_NAME = "IF cable run {{odu}} ({{role}}), one piece";

/**
 * What goes into the install kit of an end. Cable is listed run by run, since each run is one piece; any other item
 * stands once, however many rules ask for it: nobody puts two cans into a box of which a fifth of one is used. Lines
 * that round only over an order keep their exact quantity (the pick list rounds what is put in the box).
 */
export function kitLinesOf(takeoff: EndTakeoff): KitNeedLine[] {
  const cables = new Set(takeoff.runs.map((r) => r.cableCode));
  const lines = takeoff.lines.filter((l) => !cables.has(l.itemCode) && l.exact > 0).map(needLine);
  const runs = takeoff.runs.map(
    (r): KitNeedLine => ({
      itemCode: r.cableCode,
      name: english(phrase(RUN_LINE_NAME, { odu: r.oduLabel, role: r.role })),
      quantity: r.cutM,
      unit: "m",
      reason: `${r.cutM.toFixed(1)} m = ${r.routeM.toFixed(1)} route + ${(r.cutM - r.routeM).toFixed(1)} surplus`,
      runId: r.id,
    }),
  );
  return [...runs, ...onePerItem(lines)];
}

function onePerItem(lines: readonly KitNeedLine[]): KitNeedLine[] {
  const byItem = new Map<string, KitNeedLine[]>();
  for (const l of lines) byItem.set(l.itemCode, [...(byItem.get(l.itemCode) ?? []), l]);
  return [...byItem.values()].map((parts) => ({
    ...parts[0]!,
    // Hundredths are the store's smallest amount; sums of fractions are cleared of what lies far below.
    quantity: Math.round(parts.reduce((sum, l) => sum + l.quantity, 0) * 1e6) / 1e6,
    reason: parts.map((l) => l.reason).join(NEXT_REASON),
  }));
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

/** Hours of a hop's visits. */
export interface HopEstimates {
  near: EndEstimate;
  far: EndEstimate;
  /** The same work at either side when both ends are aligned at once. */
  alignment: Record<EndSide, EndEstimate>;
  /** Where the acceptance readings have a visit of their own. */
  acceptance?: Record<EndSide, EndEstimate>;
}

/** A revisit with its hours. */
export interface EstimatedRevisit extends Revisit {
  estimate: EndEstimate;
}

/** The visits of a hop in the order of its work: an alignment that takes several days part by part. */
export function visitsOf(
  hop: Hop,
  takeoff: HopTakeoff,
  estimates: HopEstimates,
  revisits: readonly EstimatedRevisit[] = [],
  catalogue: readonly CatalogueItem[] = [],
): ProgrammeVisit[] {
  const installs = SIDES.map((side): ProgrammeVisit => {
    const taken = takeoff[side];
    return {
      ...bareVisit(hop, side, "install", estimates[side]),
      lines: kitLinesOf(taken),
      runs: runsOf(hop, hop[side], taken),
      massKg: taken.massKg,
      volumeL: taken.volumeL,
    };
  });
  const { acceptance } = estimates;
  return [
    ...installs,
    ...alignmentsOf(hop, estimates),
    ...(acceptance ? SIDES.map((side) => bareVisit(hop, side, "acceptance", acceptance[side])) : []),
    ...revisits.map((r) => revisitOf(hop, takeoff[r.side], r, catalogue)),
  ];
}

/** Both ends of each part side by side when they are aligned at once; else all of one end, then all of the other. */
function alignmentsOf(hop: Hop, { alignment }: HopEstimates): ProgrammeVisit[] {
  const isJoint = hop.alignment === "both ends at once";
  const partsAt = (side: EndSide) => alignment[side].parts ?? [alignment[side].segments];
  const visit = (side: EndSide, i: number): ProgrammeVisit => {
    const estimate = alignment[side];
    const segments = partsAt(side)[i]!;
    const durationMin = estimate.parts ? minutesOf(segments) : estimate.durationMin;
    return {
      ...bareVisit(hop, side, "alignment", estimate, i + 1),
      isJoint,
      segments,
      durationMin,
      p80Min: (durationMin * estimate.p80Min) / estimate.durationMin,
    };
  };
  return isJoint
    ? partsAt("near").flatMap((_, i) => SIDES.map((side) => visit(side, i)))
    : SIDES.flatMap((side) => partsAt(side).map((_, i) => visit(side, i)));
}

/** What is undone is done with the same material again; what is not used comes back. */
const REMEDY_MATERIAL: Readonly<Record<Remedy, readonly ItemCategory[]>> = {
  "align again": [],
  connections: ["connector", "self-amalgamating tape", "PVC tape"],
  earthing: ["earthing lead", "lug"],
  "indoor unit": [],
};

function revisitOf(
  hop: Hop,
  takeoff: EndTakeoff,
  { side, no, remedy, isJoint, estimate }: EstimatedRevisit,
  catalogue: readonly CatalogueItem[],
): ProgrammeVisit {
  const wanted = new Set(
    catalogue.filter((i) => REMEDY_MATERIAL[remedy].includes(i.category)).map((i) => i.code),
  );
  const lines = kitLinesOf(takeoff).filter((l) => l.runId === undefined && wanted.has(l.itemCode));
  const massOf = new Map(catalogue.map((i) => [i.code, i]));
  const sum = (of: (item: CatalogueItem) => number) =>
    lines.reduce((total, l) => total + l.quantity * of(massOf.get(l.itemCode)!), 0);
  return {
    ...bareVisit(hop, side, "revisit", estimate, no),
    isJoint,
    lines,
    massKg: sum((i) => i.massKg),
    volumeL: sum((i) => i.volumeL),
  };
}

/** A visit to an end without material. */
function bareVisit(
  hop: Hop,
  side: EndSide,
  kind: VisitWork,
  estimate: EndEstimate,
  part = 1,
): ProgrammeVisit {
  return {
    id: visitIdOf(hop.code, side, kind, part),
    hopCode: hop.code,
    side,
    siteCode: hop[side].siteId,
    kind,
    part,
    isJoint: false,
    estimate,
    segments: estimate.segments,
    durationMin: estimate.durationMin,
    p80Min: estimate.p80Min,
    lines: [],
    runs: [],
    massKg: 0,
    volumeL: 0,
  };
}

/** Which work of a hop comes after which; a revisit after all of it. */
const STAGES: readonly VisitWork[] = ["install", "alignment", "acceptance", "revisit"];

/**
 * Open visits of the same hop that must have ended before `visit` starts: the part before its own, at the far end of an
 * alignment one end after the other the near end's; the first of its stage waits for the last stage before it that
 * still has any.
 *
 * @param open the hop's visits that are still to do
 */
export function awaitedBy(visit: ProgrammeVisit, open: readonly ProgrammeVisit[]): string[] {
  const ids = (visits: readonly ProgrammeVisit[]) => visits.map((v) => v.id);
  const earlier = open.filter((v) => v.kind === visit.kind && isEarlierPart(v, visit));
  const here = earlier.filter((v) => visit.isJoint || v.side === visit.side);
  const nearest = here.length > 0 ? here : earlier;
  if (nearest.length > 0) {
    const part = Math.max(...nearest.map((v) => v.part));
    return ids(nearest.filter((v) => v.part === part));
  }
  const stage = (v: ProgrammeVisit) => STAGES.indexOf(v.kind as VisitWork);
  const before = open.filter((v) => stage(v) < stage(visit));
  const last = Math.max(-1, ...before.map(stage));
  return ids(before.filter((v) => stage(v) === last));
}

function isEarlierPart(v: ProgrammeVisit, of: ProgrammeVisit): boolean {
  if (of.kind === "revisit") return v.side === of.side && v.part < of.part;
  if (of.kind !== "alignment") return false;
  if (of.isJoint || v.side === of.side) return v.part < of.part;
  return v.side === "near" && of.side === "far";
}

/** Whether an end hangs: its install is reported done. What is left over of one that is done in part is still to come. */
export const isInstallDone = (done: ReadonlyMap<string, unknown>, hopCode: string, side: EndSide): boolean =>
  done.has(visitIdOf(hopCode, side, "install"));
