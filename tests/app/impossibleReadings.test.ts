/** A reading that cannot be is refused on the form, by the bounds that the server holds it against. */
import { expect, test } from "vitest";
import { impossibleReadings } from "@/app/(work)/hops/impossibleReadings";
import { newReadings } from "@/app/(work)/hops/newReadings";
import { type AskedReading, READING_BOUNDS } from "@/lib/acceptance";

const level: AskedReading = {
  id: "near/receive level/R1",
  kind: "receive level",
  side: "near",
  form: { figure: "dBm" },
};
const earth: AskedReading = {
  id: "near/earth resistance",
  kind: "earth resistance",
  side: "near",
  form: { figure: "ohm" },
};
const asked = [earth, level];
const ofLevel = (value: number, targetLevelDbm?: number) =>
  impossibleReadings([{ askedId: level.id, value, targetLevelDbm }], asked).map((p) => [p.path, p.message]);

test("the field and what is wrong with it are named", () => {
  expect(ofLevel(-41.5, -40)).toEqual([]);
  expect(ofLevel(-4000)).toEqual([["reading-1", "Below -200: check the reading and its unit."]]);
  expect(ofLevel(-41.5, 40)).toEqual([["target-1", "A target above 10 dBm: check the sign and the unit."]]);
  expect(ofLevel(Number.NaN)).toEqual([["reading-1", "Give the reading as a number."]]);
  expect(ofLevel(41.5)).toEqual([["reading-1", "A level that a radio receives lies below zero dBm."]]);
});

test("form and server draw the line at the same figures, with the same words", () => {
  for (const field of ["value", "targetLevelDbm"] as const) {
    const { least, most } = READING_BOUNDS[field];
    for (const value of [least - 0.1, least, most, most + 0.1]) {
      const reading = { askedId: earth.id, value: 1, [field]: value };
      const taken = newReadings.safeParse([reading]);
      expect(impossibleReadings([reading], asked).map((p) => p.message)).toEqual(
        taken.success ? [] : taken.error.issues.map((i) => i.message),
      );
    }
  }
});
