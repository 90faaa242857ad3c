import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { describe, expect, test } from "vitest";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { sayKept } from "@/app/_ui/language/kept";
import { makeWords } from "@/app/_ui/language/words";
import { actionsSaid } from "@/app/(work)/rules/logAction";
import { LOG_ACTIONS } from "@/db/queries/log";

const ROOT = path.resolve(import.meta.dirname, "../../..");
const CODE = ["app", "db", "lib", "seed"].flatMap((folder) =>
  readdirSync(path.join(ROOT, folder), { recursive: true, encoding: "utf8" })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => [`${folder}/${name}`, readFileSync(path.join(ROOT, folder, name), "utf8")] as const),
);
const ACTIONS: readonly string[] = LOG_ACTIONS;

/** Texts in quotes in what `pattern` finds, without those that are compared with. */
const textsIn = (source: string, pattern: RegExp): string[] =>
  [...source.matchAll(pattern)].flatMap(([, found]) =>
    [...found!.replaceAll(/=== "[^"]*"/g, "").matchAll(/"([a-z][^"]+)"/g)].map(([, text]) => text!),
  );

/** Actions as fields of an entry, and as given to the functions that write the log for a file of steps. */
const actionsIn = (source: string): string[] => [
  ...textsIn(source, /\baction: ([^,;\n]*)/g),
  ...textsIn(source, /\b(?:log|logOrder|logOwn|logAccount)\(([^()]*)[,)]/g),
];

describe("what is logged", () => {
  test("enters the log in one place, which takes no action that is not in the list", () => {
    expect(CODE.filter(([, source]) => /insert\(logEntry\)/.test(source)).map(([name]) => name)).toEqual([
      "db/queries/log.ts",
    ]);
    const writers = CODE.filter(([, source]) => /\baddLogEntry\b/.test(source));
    expect(writers.length).toBeGreaterThan(25);
    // A list that a string could enter would let anything in.
    for (const [name, source] of writers) expect(source, name).not.toMatch(/\baction: string\b/);
  });

  test("is in the list, wherever in the code it is written", () => {
    const writers = CODE.filter(([, source]) => /\b(addLogEntry|logOrder|keepRejections|log)\(/.test(source));
    const written = writers.flatMap(([, source]) => actionsIn(source));
    expect(new Set(written).size).toBeGreaterThan(60);
    expect([...new Set(written)].filter((action) => !ACTIONS.includes(action))).toEqual([]);
  });

  test("is said in German, and each action in other words", () => {
    const german = makeWords("de", wholeCatalogueOf("de"));
    const said = LOG_ACTIONS.map((action) => sayKept(action, LOG_ACTIONS, german));
    expect(said.filter((words) => ACTIONS.includes(words))).toEqual([]);
    expect(new Set(said).size).toBe(LOG_ACTIONS.length);
  });

  test("is found by the words that stand on the page; in English by what is kept", () => {
    const german = makeWords("de", wholeCatalogueOf("de"));
    expect(actionsSaid(german)("FREIGABE")).toContain("change gate");
    expect(actionsSaid(german)("gate")).toEqual([]);
    expect(actionsSaid(makeWords("en", {}))("gate")).toEqual([]);
  });
});
