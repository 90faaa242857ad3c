/** What a reading can be at all: a figure outside is a slip of the hand or of the unit, whatever its limits say. */
import { phrase } from "@/lib/phrase";
import { sentences } from "@/lib/result";
import type { ReadingKind } from "./types";

/** Our own choice, wide of what instruments show. The same for the form on a phone and for the server's border. */
export const READING_BOUNDS = {
  value: {
    least: -200,
    most: 1_000_000,
    noNumber: "Give the reading as a number.",
    below: "Below -200: check the reading and its unit.",
    above: "Too large for any reading: check the unit.",
  },
  targetLevelDbm: {
    least: -120,
    most: 10,
    noNumber: "Give the target level as a number.",
    below: "A target below -120 dBm: check the sign and the unit.",
    above: "A target above 10 dBm: check the sign and the unit.",
  },
} as const;

/** What is wrong with a figure as such; undefined = it can be. */
export function outOfBounds(field: keyof typeof READING_BOUNDS, value: number): string | undefined {
  const { least, most, noNumber, below, above } = READING_BOUNDS[field];
  if (!Number.isFinite(value)) return noNumber;
  return value < least ? below : value > most ? above : undefined;
}

/** Nothing receives with more than a milliwatt (common practice). */
export const isLevelAboveZero = (kind: ReadingKind, value: number | undefined): boolean =>
  kind === "receive level" && value !== undefined && value >= 0;

export const levelAboveZero = () =>
  sentences(
    phrase("A level that a radio receives lies below zero dBm."),
    phrase("Write the minus before the figure, or check which instrument it was read from."),
  );
