/** Figures of the take-off policy. */
import { DEFAULT_POLICY, POLICY_FIGURES } from "@/lib/takeoff";
import type { Spec, SpecGroup } from "./figure";

const TAKEOFF_GROUPS: readonly [string, string, readonly (keyof typeof POLICY_FIGURES)[]][] = [
  [
    "cable",
    "IF cable and connectors",
    [
      "surplusM",
      "cutStepM",
      "dripLoopDiameterM",
      "terminationM",
      "connectorLoss",
      "entryHeightM",
      "conductorMaxTempC",
      "lossOfSurgeArrestorDb",
      "couplerSplit",
    ],
  ],
  [
    "earthing",
    "Earthing",
    [
      "maxEarthingSpacingM",
      "shortRunM",
      "minEarthingPoints",
      "bendClearanceM",
      "minEarthingSectionMm2",
      "nearOduM",
      "beforeEntryM",
    ],
  ],
  [
    "fixing",
    "Fixing",
    [
      "tiesOrHangers",
      "hangerSpacingM",
      "tieLoss",
      "tiesPerOutdoorM",
      "tiesPerIndoorM",
      "tiesPerDripLoop",
      "tiesPerEarthingPoint",
      "tiesPerWrap",
    ],
  ],
  [
    "tape",
    "Weatherproofing",
    [
      "tapeWidthRatio",
      "tapeOverlap",
      "tapeBeyondMm",
      "tapeEndLossMm",
      "wrapLengthMm",
      "pvcWidthRatio",
      "wrapDiameterAddMm",
      "wrapsEntry",
    ],
  ],
  [
    "checks",
    "Hoisting and checks",
    ["handHoistMaxKg", "diversityMinM", "diversityMaxM", "hopMinM", "hopMaxKm"],
  ],
];

const CHOICES: Record<string, readonly { value: string; label: string }[]> = {
  tiesOrHangers: [
    { value: "ties", label: "ties" },
    { value: "hangers", label: "cable hangers" },
  ],
  couplerSplit: [
    { value: "equal", label: "equal split" },
    { value: "unequal", label: "unequal split" },
  ],
};

export function takeoffGroups(): SpecGroup[] {
  return TAKEOFF_GROUPS.map(([id, title, names]) => ({
    id,
    title,
    figures: names.map((name): Spec => {
      const { label, unit, source } = POLICY_FIGURES[name];
      const choices = CHOICES[name];
      const kind = choices ? "choice" : typeof DEFAULT_POLICY[name] === "boolean" ? "yes/no" : "number";
      return { path: name, label, unit, source, kind, choices };
    }),
  }));
}
