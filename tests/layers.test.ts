/** Imports point one way: app -> db -> lib, and inside lib along the order below (docs: DEVELOPERS.md). */
import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";

const ROOT = path.resolve(import.meta.dirname, "..");

/** What each folder or file of lib may import besides itself. A folder that is not here is a finding of its own. */
const GROUND = ["time", "geo", "random", "phrase", "result"];
const LIB_MAY_IMPORT: Record<string, readonly string[]> = {
  time: [],
  geo: [],
  random: [],
  phrase: [],
  // A refusal keeps its figures apart, for other languages.
  result: ["phrase"],
  find: [],
  calendar: GROUND,
  map: GROUND,
  labels: GROUND,
  site: GROUND,
  // What a visit is called, for pages that need no more of it.
  visitIds: [...GROUND, "site:types"],
  takeoff: [...GROUND, "site"],
  weather: [...GROUND, "site"],
  hours: [...GROUND, "site", "weather:types", "takeoff:types"],
  acceptance: [...GROUND, "site"],
  // Actual hours against estimates: knows what an estimate is, not how it is made.
  calibration: [...GROUND, "site", "hours"],
  drums: [...GROUND, "site"],
  stock: [...GROUND, "site"],
  // Turns files into everybody's types, so it knows them; nobody in lib knows files.
  exchange: [...GROUND, "site", "takeoff", "weather", "hours", "calibration", "drums", "stock"],
  schedule: [...GROUND, "site", "hours", "weather", "stock", "drums", "takeoff"],
  photos: [...GROUND, "schedule:types"],
  // Runs a plan of the crews; knows nothing of where its figures come from.
  risk: [...GROUND, "weather", "schedule"],
  // Assembles the schedule's problem and the risk's input from the other parts, so it stands above them.
  programme: [
    ...GROUND,
    "site",
    "visitIds",
    "acceptance",
    "takeoff",
    "hours",
    "calibration",
    "weather",
    "drums",
    "stock",
    "schedule",
    "risk",
  ],
};

const LAYERS: Record<string, readonly string[]> = {
  lib: ["lib"],
  db: ["db", "lib"],
  app: ["app", "db", "lib"],
};

interface Import {
  file: string;
  specifier: string;
  /** `import type` or `export type`: gone at run time. */
  isType: boolean;
  /** Path from the root without extension when it points into the project. */
  target?: string;
}

function filesUnder(folder: string): string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const full = path.join(folder, entry.name);
    if (entry.isDirectory()) return filesUnder(full);
    return /\.(ts|tsx|mts|mjs)$/.test(entry.name) ? [full] : [];
  });
}

const IMPORT =
  /^\s*(?:import|export)\s+([\w$*{},\s]+?)\s*from\s*["']([^"']+)["']|^\s*import\s*["']([^"']+)["']|\bimport\(\s*["']([^"']+)["']\s*\)/gm;

function importsOf(absolute: string): Import[] {
  const file = path.relative(ROOT, absolute).split(path.sep).join("/");
  const text = readFileSync(absolute, "utf8");
  return [...text.matchAll(IMPORT)].map((m) => {
    const specifier = m[2] ?? m[3] ?? m[4] ?? "";
    const names = m[1] ?? "";
    const inBraces = /\{([^}]*)\}/
      .exec(names)?.[1]
      ?.split(",")
      .filter((name) => name.trim() !== "");
    const isType =
      /^\s*type\b/.test(names) ||
      (inBraces !== undefined &&
        !/^\s*\w+\s*,/.test(names) &&
        inBraces.length > 0 &&
        inBraces.every((name) => /^\s*type\s/.test(name)));
    const target = specifier.startsWith("@/")
      ? specifier.slice(2)
      : specifier.startsWith(".")
        ? path.posix.join(path.posix.dirname(file), specifier)
        : undefined;
    return { file, specifier, isType, target };
  });
}

const imports = ["lib", "db", "app"].flatMap((layer) =>
  filesUnder(path.join(ROOT, layer)).flatMap(importsOf),
);

/** `lib/takeoff/cable` -> `takeoff`, `lib/result` -> `result`. */
const libPart = (file: string) => (file.split("/")[1] ?? "").replace(/\.ts$/, "");

const told = ({ file, specifier }: Import) => `${file} imports ${specifier}`;

test("the import lines are found", () => {
  expect(imports.filter((i) => i.file === "db/open.ts").map((i) => i.specifier)).toContain("better-sqlite3");
  expect(imports.length).toBeGreaterThan(100);
});

test("app imports db and lib, db imports lib, lib imports nothing outside itself", () => {
  const wrong = imports.filter(({ file, target }) => {
    if (target === undefined) return false;
    const allowed = LAYERS[file.split("/")[0] ?? ""] ?? [];
    return !allowed.includes(target.split("/")[0] ?? "");
  });
  expect(wrong.map(told)).toEqual([]);
});

test("what pages share knows no page", () => {
  const wrong = imports.filter(
    ({ file, target }) => /^app\/_(ui|client|server)\//.test(file) && target?.startsWith("app/("),
  );
  expect(wrong.map(told)).toEqual([]);
});

test("every folder of lib has its place in the order", () => {
  const parts = readdirSync(path.join(ROOT, "lib")).map((name) => name.replace(/\.ts$/, ""));
  expect(parts.filter((part) => !(part in LIB_MAY_IMPORT))).toEqual([]);
});

test("lib's parts import only those below them", () => {
  const wrong = imports.filter(({ file, target, isType }) => {
    if (!file.startsWith("lib/") || !target?.startsWith("lib/")) return false;
    const [from, to] = [libPart(file), libPart(target)];
    if (from === to) return false;
    const allowed = LIB_MAY_IMPORT[from] ?? [];
    return !(allowed.includes(to) || (isType && allowed.includes(`${to}:types`)));
  });
  expect(wrong.map(told)).toEqual([]);
});

test("nobody imports the inside of another part of lib", () => {
  const wrong = imports.filter(({ file, target }) => {
    if (!target?.startsWith("lib/")) return false;
    const isInside = target.split("/").length > 2;
    const isOwn = file.startsWith("lib/") && libPart(file) === libPart(target);
    return isInside && !isOwn;
  });
  expect(wrong.map(told)).toEqual([]);
});

test("across folders imports begin with @/, within a folder with ./", () => {
  const wrong = imports.filter(({ file, specifier }) => {
    if (!file.startsWith("lib/")) return false;
    if (specifier.startsWith("@/lib/")) return libPart(file) === libPart(specifier.slice(2));
    return specifier.startsWith("../") && file.split("/").length <= 3;
  });
  expect(wrong.map(told)).toEqual([]);
});

test("there are no cycles between files", () => {
  const resolve = (target: string): string | undefined =>
    [target, `${target}.ts`, `${target}.tsx`, `${target}/index.ts`].find(
      (name) => existsSync(path.join(ROOT, name)) && statSync(path.join(ROOT, name)).isFile(),
    );
  const next = new Map<string, string[]>();
  for (const { file, target, isType } of imports) {
    const resolved = !isType && target ? resolve(target) : undefined;
    if (resolved) next.set(file, [...(next.get(file) ?? []), resolved]);
  }
  const cycles: string[] = [];
  const done = new Set<string>();
  const visit = (file: string, trail: string[]) => {
    const at = trail.indexOf(file);
    if (at >= 0) cycles.push([...trail.slice(at), file].join(" -> "));
    if (at >= 0 || done.has(file)) return;
    for (const to of next.get(file) ?? []) visit(to, [...trail, file]);
    done.add(file);
  };
  for (const file of next.keys()) visit(file, []);
  expect(cycles).toEqual([]);
});

test("lib is pure: no clock, no hidden randomness, no files, no packages that bring them", () => {
  const FORBIDDEN: readonly [RegExp, string][] = [
    [/\bDate\.now\(/, "Date.now"],
    [/\bnew Date\(\s*\)/, "new Date()"],
    [/\bMath\.random\b/, "Math.random"],
    [/\bperformance\.now\(/, "performance.now"],
    [/\bTemporal\.Now\b/, "Temporal.Now"],
    [/\bprocess\.(env|hrtime|argv|cwd)\b/, "process"],
    [/\bcrypto\.(randomUUID|getRandomValues)\b/, "crypto"],
    [/\bconsole\./, "console"],
  ];
  const wrong = filesUnder(path.join(ROOT, "lib")).flatMap((file) => {
    const code = readFileSync(file, "utf8")
      .replace(/\/\*[\s\S]*?\*\//g, "")
      .replace(/(^|\s)\/\/.*$/gm, "");
    return FORBIDDEN.filter(([pattern]) => pattern.test(code)).map(
      ([, name]) => `${path.relative(ROOT, file)} uses ${name}`,
    );
  });
  // node:zlib reads what a spreadsheet is packed in: bytes in, bytes out.
  const PACKAGES = new Set(["temporal-polyfill", "zod", "exceljs", "papaparse", "node:zlib"]);
  const foreign = imports.filter(
    ({ file, target, specifier, isType }) =>
      file.startsWith("lib/") && target === undefined && !isType && !PACKAGES.has(specifier),
  );
  expect([...wrong, ...foreign.map(told)]).toEqual([]);
});

test("what runs in the browser makes its keys in one place, which also works over plain HTTP", () => {
  const inBrowser = filesUnder(path.join(ROOT, "app")).filter((file) =>
    readFileSync(file, "utf8").startsWith('"use client"'),
  );
  expect(inBrowser.length).toBeGreaterThan(50);
  const wrong = inBrowser.filter((file) => /randomUUID|Math\.random/.test(readFileSync(file, "utf8")));
  expect(wrong.map((file) => path.relative(ROOT, file))).toEqual([]);
});
