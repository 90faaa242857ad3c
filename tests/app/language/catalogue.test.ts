import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { describe, expect, test } from "vitest";
import { type Area, catalogueOf, wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { languageOf } from "@/app/_ui/language/languages";
import { makeWords } from "@/app/_ui/language/words";
import { english, figure, phrase } from "@/lib/phrase";
import { SAID_BY_NAME } from "./saidByName";

const ROOT = path.resolve(import.meta.dirname, "../../..");

/** Words that are the same in every language. */
const SAME = new Set([
  "V",
  "H",
  "dBm",
  "dB",
  "{{odu}} {{role}}: {{cable}}",
  "{{band}} GHz, {{scheme}}",
  "1+0",
  // A crew's calendar is in English whoever reads it.
  "The plan may change: see My week before you leave, for kit, steps and weather.",
  "A planning aid: it never says that it is safe to climb; the crew on site decides.",
  // Terrain categories.
  ...["0", "I", "II", "III", "IV"],
]);

/** Path and text of the code in a folder. */
function sources(folder: string): [name: string, source: string][] {
  return readdirSync(path.join(ROOT, folder), { recursive: true, encoding: "utf8" })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => [`${folder}/${name}`, readFileSync(path.join(ROOT, folder, name), "utf8")]);
}

/** What stands in quotes of either kind. */
const textOf = (literal: string): string =>
  literal.startsWith("'") ? literal.slice(1, -1) : (JSON.parse(literal) as string);

/** Texts that one file says: t("..."), phrase("..."), <T>...</T>. */
function textsIn(source: string): string[] {
  if (!/\b(useWords|serverWords|makeWords|phrase|Words)\b|<T>/.test(source)) return [];
  const called = source.matchAll(/\b(?:t|phrase)\(\s*("(?:[^"\\]|\\.)*"|'[^'\n]*')/g);
  const shown = source.matchAll(/<T>([^<{]+)<\/T>/g);
  return [
    ...[...called].map(([, literal]) => textOf(literal!)),
    ...[...shown].map(([, text]) => text!.trim().replace(/\s+/g, " ")),
  ].filter((text) => text !== "");
}

/** What inputs are refused with: whole sentences of files that say what an input must be. Programs are told in English. */
function refusalsIn([name, source]: [name: string, source: string]): string[] {
  if (!source.includes('from "zod"') || name.includes("openInterface")) return [];
  const sentences = source.matchAll(/(?<!phrase\(\s*)"[A-Z](?:[^"\\\n]|\\.)* (?:[^"\\\n]|\\.)*\."/g);
  // Some are put behind the field's name: "at most 60 days".
  const limits = source.matchAll(
    /\.(?:min|max|refine|regex|positive|nonnegative|int|email)\((?:[^()"]*,\s*)?("[a-z][^"]+")/g,
  );
  // What a row of a file breaks is worded by lib/exchange, with its column.
  const asked = name.startsWith("app/") ? [...limits].map(([, text]) => text!) : [];
  return [...[...sentences].map(([text]) => text), ...asked].map(textOf);
}

/** Texts that stand in the code, and sentences in lists that say them later. */
function textsInCode(): Set<string> {
  const all = ["app", "db", "lib"].flatMap(sources);
  const found = new Set(all.flatMap(([, source]) => textsIn(source)));
  for (const text of all.flatMap(refusalsIn)) found.add(text);
  const steps = readFileSync(path.join(ROOT, "lib/programme/crewSteps.ts"), "utf8");
  const cautions = steps.slice(steps.indexOf("const CAUTIONS"), steps.indexOf("/** Steps of an install"));
  for (const [literal] of cautions.matchAll(/"[A-Z1][^"]*\."/g)) found.add(JSON.parse(literal) as string);
  const outbox = readFileSync(path.join(ROOT, "app/(work)/week/OutboxPanel.tsx"), "utf8");
  const states = outbox.slice(outbox.indexOf("const WORDS"), outbox.indexOf("} as const"));
  for (const [literal] of states.matchAll(/"[^"]*\."/g)) found.add(JSON.parse(literal) as string);
  const signIn = readFileSync(path.join(ROOT, "app/sign-in/actions.ts"), "utf8");
  for (const [literal] of signIn.matchAll(/"[A-Z][^"]*\."/g)) found.add(JSON.parse(literal) as string);
  return found;
}

const wanted = new Set([...textsInCode(), ...SAID_BY_NAME]);
const places = (text: string) => [...text.matchAll(/\{\{(\w+)\}\}/g)].map((m) => m[1]).sort();
const stem = (key: string) => key.replace(/_(one|other)$/, "");

describe("the German catalogue", () => {
  const de = wholeCatalogueOf("de");

  test("says every text that the code says", () => {
    const missing = [...wanted].filter(
      (text) => !(text in de) && !(`${text}_other` in de) && !SAME.has(text),
    );
    expect(missing).toEqual([]);
  });

  test("has nothing that nobody says", () => {
    expect(Object.keys(de).filter((key) => !wanted.has(stem(key)) && !wanted.has(key))).toEqual([]);
  });

  test("keeps the places of each sentence", () => {
    // A singular may say its number in words.
    const kept = (text: string, isOne: boolean) => places(text).filter((name) => !isOne || name !== "count");
    const wrong = Object.entries(de).filter(([key, said]) => {
      const isOne = key.endsWith("_one");
      return kept(stem(key), isOne).join() !== kept(said, isOne).join();
    });
    expect(wrong).toEqual([]);
  });
});

/** Whose texts the browser is given on the pages of a folder; all others make do with the common ones. */
const AREAS: Readonly<Record<string, Area>> = {
  ...Object.fromEntries(
    ["plan", "programme", "map", "weather", "jobs"].map((p) => [`app/(work)/${p}`, "planning"]),
  ),
  ...Object.fromEntries(["stock", "kits"].map((p) => [`app/(work)/${p}`, "logistics"])),
  ...Object.fromEntries(
    ["add", "sites", "hops", "import", "rules", "account"].map((p) => [`app/(work)/${p}`, "design"]),
  ),
  "app/setup": "design",
  "app/invitation": "design",
};

/** Parts that are shown on the pages of another area, or of one area only. */
const PARTS: Readonly<Record<string, Area>> = {
  // What saves rules and shows their history stands on the programme's pages too.
  ...Object.fromEntries(
    ["SaveChange", "History", "EffectView", "HoursEffectView"].map((p) => [
      `app/(work)/rules/${p}`,
      "common",
    ]),
  ),
  "app/_client/scan": "logistics",
  "app/_ui/PlanBoard.tsx": "planning",
  "app/_ui/board/": "planning",
  "app/_ui/WeatherDays.tsx": "planning",
  "app/_ui/MapSketch.tsx": "design",
  "app/_ui/RouteSketch.tsx": "design",
  "app/_ui/charts/HoursByHeightChart.tsx": "design",
  "app/_ui/charts/WindLimitChart.tsx": "design",
  "app/_ui/charts/CostTraceChart": "planning",
  "app/_ui/charts/CrewLoadChart": "planning",
  "app/_ui/charts/CriticalityChart": "planning",
  "app/_ui/charts/EstimateActualChart": "planning",
  "app/_ui/charts/SCurveChart": "planning",
  "app/_ui/charts/StockProjectionChart.tsx": "logistics",
};

describe("the browser", () => {
  test("is given the texts of the area that a page belongs to", () => {
    for (const [folder, area] of Object.entries(AREAS))
      expect(readFileSync(path.join(ROOT, folder, "layout.tsx"), "utf8")).toContain(`area="${area}"`);
  });

  test("has every text that a component says there", () => {
    const lacking = sources("app")
      .filter(
        ([name, source]) => /\buseWords\b/.test(source) || (name.endsWith(".tsx") && /<T>/.test(source)),
      )
      .flatMap(([name, source]) => {
        const area =
          Object.entries({ ...PARTS, ...AREAS }).find(([part]) => name.startsWith(part))?.[1] ?? "common";
        const given = catalogueOf("de", area);
        return textsIn(source)
          .filter((text) => !(text in given) && !(`${text}_other` in given) && !SAME.has(text))
          .map((text) => `${name}: ${text}`);
      });
    expect(lacking).toEqual([]);
  });
});

test("a text that two areas keep is said alike in both", () => {
  const whole = wholeCatalogueOf("de");
  const areas = ["common", "planning", "logistics", "design"] as const;
  const unlike = areas.flatMap((area) =>
    Object.entries(catalogueOf("de", area)).filter(([key, said]) => whole[key] !== said),
  );
  expect(unlike).toEqual([]);
});

describe("texts with a count", () => {
  const counted = [...wanted].filter((text) => text.includes("{{count}}"));

  test("have a singular and a plural in every language", () => {
    expect(counted.length).toBeGreaterThan(5);
    for (const language of ["en", "de"] as const)
      for (const form of ["one", "other"])
        expect(counted.filter((text) => !(`${text}_${form}` in wholeCatalogueOf(language)))).toEqual([]);
  });

  test("take the form that the number asks for", () => {
    const en = makeWords("en", wholeCatalogueOf("en"));
    const de = makeWords("de", wholeCatalogueOf("de"));
    expect([1, 2].map((count) => en.t("{{count}} people", { count }))).toEqual(["1 person", "2 people"]);
    expect([1, 2].map((count) => de.t("{{count}} people", { count }))).toEqual(["1 Person", "2 Personen"]);
  });

  test("are followed by a sentence of the same number", () => {
    const en = makeWords("en", wholeCatalogueOf("en"));
    const de = makeWords("de", wholeCatalogueOf("de"));
    const said = (text: string) =>
      [en, de].flatMap(({ t }) => [1, 2].map((count) => t(text, { count }).split(" ").slice(0, 2).join(" ")));
    const sentences = [
      "They go out with the report.",
      "They go out by themselves when this page is open with a signal.",
    ];
    for (const text of sentences) expect(said(text)).toEqual(["It goes", "They go", "Es geht", "Sie gehen"]);
  });
});

test("a repeated task is said with what it is repeated for", () => {
  const de = makeWords("de", wholeCatalogueOf("de"));
  expect(de.task("Hoist cable (standby)")).toBe("Kabel heben (Reserve)");
  expect(de.task("Hoist cable (R2)")).toBe("Kabel heben (R2)");
  expect(de.task("Hoist cable (standby), part 1 of 2")).toBe("Kabel heben (Reserve), Teil 1 von 2");
  expect(de.task("Own task of a company (with care)")).toBe("Own task of a company (with care)");
});

describe("a sentence of lib", () => {
  const sentence = phrase("{{odu}}: target {{level}} dBm", { odu: "R1", level: figure(-38.25, 1) });

  test("is English by itself", () => {
    expect(english(sentence)).toBe("R1: target -38.3 dBm");
    expect(english(phrase("{{a}} and {{b}}", { a: phrase("V"), b: "{{c}}" }))).toBe("V and {{c}}");
  });

  test("takes the language's numbers and its own words for what stands in its places", () => {
    const de = makeWords("de", {
      "{{odu}}: target {{level}} dBm": "{{odu}}: Soll {{level}} dBm",
      "{{a}} and {{b}}": "{{a}} und {{b}}",
      main: "Haupt",
    });
    expect(de.say(sentence)).toBe("R1: Soll -38,3 dBm");
    expect(de.say(phrase("{{a}} and {{b}}", { a: phrase("main"), b: "R<2>" }))).toBe("Haupt und R<2>");
  });

  test("writes a figure with its unit, and feet beside it for who asked", () => {
    const mounted = phrase("dish at {{height}}", { height: figure(30.48, 1, "m") });
    const plain = (text: string) => text.replaceAll("\u202f", " ");
    expect(english(mounted)).toBe("dish at 30.5 m");
    expect(plain(makeWords("en", {}).say(mounted))).toBe("dish at 30.5 m");
    expect(plain(makeWords("en", {}, true).say(mounted))).toBe("dish at 30.5 m (100 ft)");
  });
});

describe("the language of a request", () => {
  test("is the device's choice before the browser's", () => {
    expect(languageOf("de", "en")).toBe("de");
    expect(languageOf("xx", "de-AT,en;q=0.5")).toBe("de");
  });

  // RFC 9110, 12.5.4: "da, en-gb;q=0.8, en;q=0.7" prefers Danish, then British English, then any English.
  test("follows the weights of Accept-Language", () => {
    expect(languageOf(undefined, "da, en-gb;q=0.8, en;q=0.7")).toBe("en");
    expect(languageOf(undefined, "en;q=0.2, de;q=0.9")).toBe("de");
    expect(languageOf(undefined, "de;q=0, fr")).toBe("en");
    expect(languageOf(undefined, null)).toBe("en");
  });
});
