/** Whatever a verdict says can be said in another language: it reads back to a sentence of VERDICT_TEXTS. */
import { expect, test } from "vitest";
import { english, type Phrase, type PhraseValue, readBack } from "@/lib/phrase";
import { Random } from "@/lib/random";
import { DEFAULT_WEATHER_POLICY, VERDICT_TEXTS, verdictAt, WORK_CLASSES } from "@/lib/weather";
import { type HourValues, SITE, seriesOf } from "./weather-fixtures";

/** Words that no sentence of the list knows; clock times stay as they are. */
function unknownIn({ text, values = {} }: Phrase): string[] {
  if (Object.keys(values).length === 0) return VERDICT_TEXTS.includes(text) ? [] : [text];
  return Object.values(values).flatMap((value: PhraseValue) => {
    if (typeof value === "string") return /^(\d\d:\d\d|m\/s|mm\/h)$/.test(value) ? [] : [value];
    return "text" in value ? unknownIn(value) : [];
  });
}

test("every verdict of a thousand drawn hours reads back, and to the same English", () => {
  const random = new Random("verdicts");
  const draw = (low: number, high: number, missing: number) =>
    random.next() < missing ? Number.NaN : low + random.next() * (high - low);
  const hour = (): HourValues => ({
    wind: draw(0, 22, 0.1),
    gust: draw(0, 30, 0.1),
    rain: random.next() < 0.6 ? 0 : draw(0, 3, 0.1),
    temp: draw(-12, 45, 0.1),
    thunder: random.next() < 0.1 ? 1 : 0,
  });
  const values = Array.from({ length: 1000 }, hour);
  const series = seriesOf(values.length, (h) => values[h]!);
  const texts = new Set(
    values.flatMap((_, h) =>
      WORK_CLASSES.map((c) => verdictAt(series, SITE, DEFAULT_WEATHER_POLICY, c, h).text),
    ),
  );
  expect(texts.size).toBeGreaterThan(500);
  const unknown = new Set<string>();
  for (const text of texts) {
    const read = readBack(text, VERDICT_TEXTS);
    expect(english(read)).toBe(text);
    for (const word of unknownIn(read)) unknown.add(word);
  }
  expect([...unknown]).toEqual([]);
});
