/** Which places of an end are wrapped, and the tape that all its wraps take from the roll. */
import type { CatalogueItem } from "@/lib/site";
import { NEEDED_NAMES } from "./attributeNames";
import { figure } from "./rounding";
import { type Tape, wrapTape } from "./tape";
import type { DesignCheck, FullPolicy } from "./types";
import { fail } from "./verdict";

/** Wrapped places of one run: the ODU connector, its earthing points, and by policy its entry. */
export interface RunWraps {
  connectors: number;
  earthingPoints: number;
  entries: number;
}

export function wrapsOf(earthingPoints: number, policy: Pick<FullPolicy, "wrapsEntry">): RunWraps {
  return { connectors: 1, earthingPoints, entries: policy.wrapsEntry ? 1 : 0 };
}

export const wrapCount = (wraps: RunWraps): number => wraps.connectors + wraps.earthingPoints + wraps.entries;

/** What the wraps lie on and are made of. A tape is undefined where no rule asks for it. */
export interface WrapMaterial {
  cableDiameterMm?: number;
  connector?: CatalogueItem;
  earthingKit?: CatalogueItem;
  pvc?: CatalogueItem;
  selfAmalgamating?: CatalogueItem;
}

export interface TapePlan {
  /** Metres from the roll, one entry per run. */
  pvcM: readonly number[];
  selfAmalgamatingM: readonly number[];
  /** "8.1 m at width ratio 0.5, 12.2 m at 0.75". */
  selfAmalgamatingRange: string;
  checks: readonly DesignCheck[];
}

/** Common practice: stretched until the width is 1/2 to 3/4 of what it was; less stretch takes more tape. */
export const WIDTH_RATIO_RANGE = [0.5, 0.75] as const;

/** Tape of all wraps of an end. What cannot be worked out becomes a failed check, never a zero. */
export function tapeForWraps(
  runs: readonly RunWraps[],
  material: WrapMaterial,
  where: string,
  policy: FullPolicy,
): TapePlan {
  const nothing = { pvcM: [], selfAmalgamatingM: [], selfAmalgamatingRange: "" };
  if (!material.pvc && !material.selfAmalgamating) return { ...nothing, checks: [] };
  const lacks = [material.pvc, material.selfAmalgamating].flatMap((item) =>
    item ? lacksTapeData(item) : [],
  );
  if (lacks.length > 0) return { ...nothing, checks: [lacksData(where, lacks)] };
  if (material.cableDiameterMm === undefined) {
    return {
      ...nothing,
      checks: [
        fail("tape-not-counted", where, {
          message: "Tape for the wraps cannot be counted: the cable's diameter is unknown.",
          remedy: "Give the end a cable type whose catalogue item has a cable diameter.",
        }),
      ],
    };
  }
  const plain = material.cableDiameterMm + policy.wrapDiameterAddMm;
  const diameters = {
    connectors: material.connector?.attributes.wrapDiameterMm ?? plain,
    earthingPoints: material.earthingKit?.attributes.wrapDiameterMm ?? plain,
    entries: plain,
  };
  const pvc = tapeOf(material.pvc);
  const selfAmalgamating = tapeOf(material.selfAmalgamating);
  const tapeAt = (widthRatio: number) => {
    const of = (diameterMm: number) => wrapTape(diameterMm, pvc, selfAmalgamating, policy, widthRatio);
    const connector = of(diameters.connectors);
    const kit = of(diameters.earthingPoints);
    const entry = policy.wrapsEntry ? of(diameters.entries) : kit;
    if (!connector || !kit || !entry) return undefined;
    const totalM = (run: RunWraps, kind: "pvcMm" | "selfAmalgamatingMm") =>
      (run.connectors * connector[kind] + run.earthingPoints * kit[kind] + run.entries * entry[kind]) / 1000;
    return {
      pvcM: runs.map((r) => totalM(r, "pvcMm")),
      selfAmalgamatingM: runs.map((r) => totalM(r, "selfAmalgamatingMm")),
    };
  };
  const planned = tapeAt(policy.tapeWidthRatio);
  if (!planned) {
    const thinnest = Math.min(diameters.connectors, diameters.earthingPoints, diameters.entries);
    return { ...nothing, checks: [cannotLie(where, thinnest, material)] };
  }
  const range = WIDTH_RATIO_RANGE.map((ratio) => {
    const at = ratio === policy.tapeWidthRatio ? planned : tapeAt(ratio);
    return at ? `${figure(total(at.selfAmalgamatingM), 2)} m at width ratio ${ratio}` : "";
  }).filter((text) => text !== "");
  return { ...planned, selfAmalgamatingRange: range.join(", "), checks: [] };
}

function tapeOf(item: CatalogueItem | undefined): Tape | undefined {
  if (!item) return undefined;
  return { widthMm: item.attributes.tapeWidthMm!, thicknessMm: item.attributes.tapeThicknessMm! };
}

function lacksTapeData(item: CatalogueItem): string[] {
  return (["tapeWidthMm", "tapeThicknessMm"] as const)
    .filter((attribute) => item.attributes[attribute] === undefined)
    .map((attribute) => `${item.code}: ${NEEDED_NAMES[attribute]}`);
}

const lacksData = (where: string, lacks: readonly string[]): DesignCheck =>
  fail("tape-not-counted", where, {
    message: `Tape for the wraps cannot be counted: the catalogue lacks ${lacks.join(", ")}.`,
    remedy: "Complete these attributes in the catalogue.",
  });

const cannotLie = (where: string, diameterMm: number, material: WrapMaterial): DesignCheck =>
  fail("tape-not-counted", where, {
    message: `Tape of ${[material.pvc, material.selfAmalgamating]
      .flatMap((t) => (t ? [`${t.code} (${figure(t.attributes.tapeWidthMm!)} mm wide)`] : []))
      .join(
        " or ",
      )} is too wide to be lapped on ${figure(diameterMm)} mm: its advance exceeds the circumference.`,
    remedy: "Choose a narrower tape or a larger overlap.",
  });

const total = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0);
