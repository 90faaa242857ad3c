/** Whatever is said of readings can be said in another language: it reads back to a sentence of READING_TEXTS. */
import { expect, test } from "vitest";
import {
  DEFAULT_ACCEPTANCE_LIMITS,
  judgeAcceptance,
  lackingWords,
  READING_TEXTS,
  type Reading,
  readingsAsked,
  remediesFor,
} from "@/lib/acceptance";
import { english, type Phrase, readBack } from "@/lib/phrase";
import { Random } from "@/lib/random";
import { SCHEMES } from "@/lib/site";
import { calendarDate } from "@/lib/time";
import { makeHop } from "../../helpers/hop";

const random = new Random("readings");
const chance = (share: number) => random.next() < share;
const pick = <T>(of: readonly T[]): T => of[Math.floor(random.next() * of.length)]!;

/** Readings of a hop in and out of their limits, some of them missing. */
function drawn(): string[] {
  const hop = makeHop({ scheme: pick(SCHEMES) });
  for (const end of [hop.near, hop.far])
    end.odus = end.odus.map((o) => (chance(0.5) ? o : { ...o, targetLevelDbm: -39.3 }));
  const share = pick([0.1, 0.5, 1]);
  const readings = readingsAsked(hop).flatMap((asked): Reading[] => {
    if (!chance(share)) return [];
    const base = { askedId: asked.id, takenOn: calendarDate("2026-03-02") };
    if (asked.form === "passed") return [{ ...base, passed: chance(0.6) }];
    const value = pick([-45.5, -39.3, -36, -38, 0, 4, 12.25, 30]);
    return [{ ...base, value, targetLevelDbm: chance(0.3) ? -40 : undefined }];
  });
  const judged = judgeAcceptance(hop, readings, DEFAULT_ACCEPTANCE_LIMITS);
  return [
    lackingWords(judged),
    ...judged.readings.map((r) => r.words),
    ...remediesFor(judged.readings, chance(0.5)).map((r) => r.cause),
  ].filter((text) => text !== "");
}

const partsOf = ({ text, values = {} }: Phrase): Phrase[] => [
  { text, values },
  ...Object.values(values).flatMap((v) => (typeof v === "object" && "text" in v ? partsOf(v) : [])),
];

const said = new Set(Array.from({ length: 3000 }, drawn).flat());
const parts = [...said].flatMap((text) => partsOf(readBack(text, READING_TEXTS)));

test("what is said of thousands of readings reads back, through and through, and to the same English", () => {
  expect(said.size).toBeGreaterThan(500);
  expect([...said].filter((text) => english(readBack(text, READING_TEXTS)) !== text)).toEqual([]);
  expect(parts.filter((p) => !READING_TEXTS.includes(p.text)).map((p) => p.text)).toEqual([]);
  // Nothing but the labels of radios stays as it is written.
  const kept = parts.flatMap((p) => Object.values(p.values ?? {}).filter((v) => typeof v === "string"));
  expect([...new Set(kept)].sort()).toEqual(["R1", "R2"]);
});

test("every sentence of the list is said", () => {
  const heard = new Set(parts.map((p) => p.text));
  expect(READING_TEXTS.filter((text) => !heard.has(text))).toEqual([]);
});
