/** Tape for weatherproofing wraps: helix geometry, passes, and metres from the roll. */
import type { FullPolicy } from "./types";

export interface Helix {
  /** Angle between the tape and a circle round the cable, degrees. */
  alphaDeg: number;
  pitchMm: number;
  turns: number;
  /** Length along the tape as it lies. */
  laidMm: number;
  /** Length of relaxed tape that it took. */
  fromRollMm: number;
}

/**
 * Geometry of one pass of tape; undefined when it cannot lie: advance wider than the circumference.
 *
 * The laid length is area over advance and does not depend on the angle. An incompressible tape whose width
 * shrinks to `widthRatio` is stretched to 1 / widthRatio^2 of its length (Treloar, from memory).
 *
 * @param diameterMm what the tape lies on, mm
 * @param lengthMm wrapped length along the cable, mm
 * @param widthMm relaxed width, mm
 * @param overlap share of the width that the next turn covers, 0 <= overlap < 1
 * @param widthRatio stretched width / relaxed width, 0 < widthRatio <= 1
 */
export function tapeHelix(
  diameterMm: number,
  lengthMm: number,
  widthMm: number,
  overlap: number,
  widthRatio: number,
): Helix | undefined {
  const circumferenceMm = Math.PI * diameterMm;
  const advanceMm = (1 - overlap) * widthMm * widthRatio;
  const sin = advanceMm / circumferenceMm;
  if (!(sin <= 1)) return undefined;
  const cos = Math.sqrt(1 - sin * sin);
  const laidMm = (circumferenceMm * lengthMm) / advanceMm;
  const pitchMm = advanceMm / cos;
  return {
    alphaDeg: (Math.asin(sin) * 180) / Math.PI,
    pitchMm,
    turns: lengthMm / pitchMm,
    laidMm,
    fromRollMm: laidMm * widthRatio * widthRatio,
  };
}

export interface Tape {
  widthMm: number;
  thicknessMm: number;
}

/** One pass over a wrap, innermost first. */
export interface TapePass {
  tape: "PVC" | "self-amalgamating";
  direction: "up" | "down";
  /** Diameter beneath and what it grows to, mm. */
  beneathMm: number;
  aboveMm: number;
  fromRollMm: number;
}

export interface WrapTape {
  pvcMm: number;
  selfAmalgamatingMm: number;
  passes: readonly TapePass[];
}

const UP_DOWN_UP = ["up", "down", "up"] as const; // common practice: the last pass upward, so that laps shed water

/**
 * Tape of one wrap: a base layer of PVC, three passes of self-amalgamating tape, three of PVC.
 *
 * Each pass is worked on the diameter beneath plus half its own growth. A pass lapped by `overlap` is
 * 1 / (1 - overlap) plies thick, so half-lapped it adds four times the tape's thickness as laid.
 * End loss is added once per kind of tape. A kind that is undefined is left out.
 *
 * @param diameterMm diameter that the wrap starts on, mm
 * @param widthRatio of the self-amalgamating tape, where not the policy's
 * @returns undefined when a pass cannot lie on it
 */
export function wrapTape(
  diameterMm: number,
  pvc: Tape | undefined,
  selfAmalgamating: Tape | undefined,
  policy: Pick<
    FullPolicy,
    "tapeWidthRatio" | "pvcWidthRatio" | "tapeOverlap" | "tapeBeyondMm" | "tapeEndLossMm" | "wrapLengthMm"
  >,
  widthRatio = policy.tapeWidthRatio,
): WrapTape | undefined {
  const lengthMm = policy.wrapLengthMm + 2 * policy.tapeBeyondMm;
  const layers = [
    ...layersOf("PVC", pvc, ["up"], 1),
    ...layersOf("self-amalgamating", selfAmalgamating, UP_DOWN_UP, widthRatio),
    ...layersOf("PVC", pvc, UP_DOWN_UP, policy.pvcWidthRatio),
  ];
  const fromRollMm = {
    PVC: pvc ? policy.tapeEndLossMm : 0,
    "self-amalgamating": selfAmalgamating ? policy.tapeEndLossMm : 0,
  };
  const passes: TapePass[] = [];
  let beneathMm = diameterMm;
  for (const layer of layers) {
    const growthMm = (2 * layer.thicknessMm * layer.ratio) / (1 - policy.tapeOverlap);
    const middleMm = beneathMm + growthMm / 2;
    const helix = tapeHelix(middleMm, lengthMm, layer.widthMm, policy.tapeOverlap, layer.ratio);
    if (!helix) return undefined;
    const aboveMm = beneathMm + growthMm;
    passes.push({
      tape: layer.tape,
      direction: layer.direction,
      beneathMm,
      aboveMm,
      fromRollMm: helix.fromRollMm,
    });
    fromRollMm[layer.tape] += helix.fromRollMm;
    beneathMm = aboveMm;
  }
  return { pvcMm: fromRollMm.PVC, selfAmalgamatingMm: fromRollMm["self-amalgamating"], passes };
}

function layersOf(
  kind: TapePass["tape"],
  tape: Tape | undefined,
  directions: readonly TapePass["direction"][],
  ratio: number,
) {
  return tape ? directions.map((direction) => ({ tape: kind, direction, ratio, ...tape })) : [];
}
