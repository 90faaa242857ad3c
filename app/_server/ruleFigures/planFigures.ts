/** Weights of a plan and the cutting policy. */
import type { PlanWeights } from "@/lib/schedule";
import type { Spec } from "./figure";

const weight = (path: keyof PlanWeights, label: string, unit: string): Spec => ({
  path,
  label,
  unit,
  min: 0,
  max: 10_000_000,
  source: "order: common practice; size: this project's choice",
});

export const WEIGHTS: readonly Spec[] = [
  weight("unplacedVisit", "Visit not placed", "per visit"),
  weight("lateHopDay", "Hop late against its promise", "per day"),
  weight("unfinishedHop", "Hop not finished in the plan", "per hop"),
  weight("crewDay", "Crew on the road", "per crew and day"),
  weight("overtimeMin", "Overtime", "per min"),
  weight("nightAway", "Night away", "per crew and night"),
  weight("openEndDay", "Hop stands open between its two ends and alignment", "per day"),
  weight("travelKm", "Distance", "per km"),
  weight("travelMin", "Driving", "per min"),
  weight("movedVisit", "Visit moved against the plan in force", "per visit"),
  weight("movedDay", "Days that a visit moves", "per day"),
  weight("riskMin", "Time that past weather adds", "per min"),
  weight("imbalanceMin", "Crews unevenly loaded", "per min"),
  weight("finishDay", "Hop finishes later in the plan", "per day"),
];

export const CUTTING: readonly Spec[] = [
  {
    path: "sawAllowanceCm",
    label: "Lost at each cut",
    unit: "cm",
    min: 0,
    max: 500,
    isWhole: true,
    source: "from memory",
  },
  {
    path: "minUsefulCm",
    label: "A remnant below this is scrap",
    unit: "cm",
    min: 0,
    max: 20_000,
    isWhole: true,
    source: "from memory",
  },
];
