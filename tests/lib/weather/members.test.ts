import fc from "fast-check";
import { expect, test } from "vitest";
import {
  DEFAULT_WEATHER_POLICY,
  decodeMembers,
  decodeSeries,
  encodeMembers,
  encodeSeries,
  type HourMask,
  hourMask,
  type WeatherSeries,
  WORK_CLASSES,
  workableShare,
} from "@/lib/weather";

const START = Date.UTC(2026, 5, 15);
const HOUR = 3_600_000;

function member(memberNo: number, windMs: number, hours = 24, startsAtMillis = START): WeatherSeries {
  const of = (v: number) => new Float32Array(hours).fill(v);
  return {
    placeId: "W",
    kind: "member",
    memberNo,
    source: "test",
    isMadeUp: true,
    issuedAtMillis: START,
    startsAtMillis,
    hours,
    windMs: of(windMs),
    gustMs: of(windMs * 1.3),
    rainMmH: of(0),
    tempC: of(12),
    humidityPct: of(60),
    thunder: of(0),
  };
}

const profile = {
  heightM: 30,
  terrain: "II",
  latDeg: 47,
  lonDeg: 8,
  elevationM: 400,
  placeElevationM: 400,
  zone: "UTC",
} as const;
const maskOf = (m: WeatherSeries) => hourMask(m, profile, DEFAULT_WEATHER_POLICY);
const at = (hour: number, workClass: (typeof WORK_CLASSES)[number]) =>
  hour * WORK_CLASSES.length + WORK_CLASSES.indexOf(workClass);

test("members of one issue come back from their block as they were, each with its number", () => {
  const members = [member(1, 4), member(2, 9, 30), member(7, 15)];
  const back = decodeMembers(encodeMembers(members));
  expect(back.map((m) => m.memberNo)).toEqual([1, 2, 7]);
  back.forEach((m, i) => {
    expect(m).toEqual(decodeSeries(encodeSeries(members[i]!)));
  });
  expect(decodeMembers(encodeMembers([]))).toEqual([]);
  expect(() => decodeMembers(encodeSeries(members[0]!))).toThrow("not a block of ensemble members");
});

test("three calm members of four leave three hours of four open at noon, and indoor work in all", () => {
  const masks = [member(1, 3), member(2, 4), member(3, 25), member(4, 5)].map(maskOf);
  const share = workableShare(masks, START, 24);
  expect(share[at(12, "aloft")]).toBe(0.75);
  expect(share[at(12, "climb")]).toBe(0.75);
  expect(share[at(12, "indoor")]).toBe(1);
  expect(share[at(1, "aloft")]).toBe(0); // night
});

test("an hour counts the members that reach it only; one that nobody reaches is not known", () => {
  const masks = [member(1, 3), member(2, 25, 12), member(3, 3, 24, START + 6 * HOUR)].map(maskOf);
  const share = workableShare(masks, START, 48);
  expect(share[at(10, "aloft")]).toBeCloseTo(2 / 3);
  expect(share[at(13, "aloft")]).toBe(1); // member 2 ended, 1 and 3 are calm
  expect(share[at(40, "indoor")]).toBeNaN();
});

test("without members nothing is known", () => {
  expect([...workableShare([], START, 3)].every(Number.isNaN)).toBe(true);
});

test("the share is that of a plain count, whatever the masks", () => {
  const mask = fc.array(fc.integer({ min: 0, max: 127 }), { minLength: 1, maxLength: 8 }).map(
    (bits): HourMask => ({
      startsAtMillis: START,
      hours: bits.length,
      workable: Uint8Array.from(bits),
      factor: new Uint8Array(bits.length * WORK_CLASSES.length),
    }),
  );
  fc.assert(
    fc.property(fc.array(mask, { minLength: 1, maxLength: 6 }), (masks) => {
      const share = workableShare(masks, START, 8);
      for (let h = 0; h < 8; h++) {
        const reached = masks.filter((m) => h < m.hours);
        for (let c = 0; c < WORK_CLASSES.length; c++) {
          const open = reached.filter((m) => Math.floor(m.workable[h]! / 2 ** c) % 2 === 1);
          const want = reached.length === 0 ? Number.NaN : Math.fround(open.length / reached.length);
          expect(share[h * WORK_CLASSES.length + c]).toBe(want);
        }
      }
    }),
  );
});
