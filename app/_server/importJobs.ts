/** What the worker does for the job kinds "import-preview" and "import-apply". */

import { createHash } from "node:crypto";
import { type Db, writing } from "@/db/open";
import { loadSites } from "@/db/queries/design";
import { existingRows } from "@/db/queries/existingRows";
import {
  discardImport,
  type FileLines,
  type ImportSummary,
  importById,
  importFileBytes,
  importFiles,
  isUnreadable,
  type PreviewLine,
  savePreview,
  setImportState,
  type TableHead,
  type WeatherAnswers,
  type WeatherHead,
} from "@/db/queries/imports";
import { itemMeasures } from "@/db/queries/itemMeasures";
import { addLogEntry } from "@/db/queries/log";
import { rulesInForce } from "@/db/queries/programme";
import { storeRows, storeWeather } from "@/db/queries/storeRows";
import {
  forecastBlocks,
  historyBlocks,
  loadWeatherPlaces,
  memberBlock,
  placesWithHours,
} from "@/db/queries/weather";
import {
  type ExistingRows,
  type FilesPreview,
  firstHoursDoubts,
  orderDoubts,
  type PlaceStand,
  type PlacesOfImport,
  type Preview,
  type Progress,
  placeDoubts,
  previewFiles,
  previewWeather,
  rowsToStore,
  seriesToStore,
  type WeatherReading,
} from "@/lib/exchange";
import { type Phrase, phrase } from "@/lib/phrase";
import { ok, type Problem, type Result, sentences } from "@/lib/result";
import { decodeMembers, decodeSeries, type WeatherSeries } from "@/lib/weather";
import { startAfterStored } from "./afterStored";
import { homeZone, nowMillis, today } from "./clock";
import type { JobTools } from "./handlers";
import type { JobInput } from "./jobKinds";

export interface ImportProgress {
  stage: Progress["stage"] | "store";
  done: number;
  total: number;
}

/** The data changed under the hands of the person so often that no preview held. */
const MOST_TRIES = 3;

/** Problems of rows that the page lists at once; the others are in the table and in the download. */
const MOST_REFUSALS_SHOWN = 50;

export async function importPreviewJob(input: JobInput<"import-preview">, tools: JobTools) {
  const { db } = tools;
  const { importId } = input;
  const head = importById(db, importId);
  if (!head || head.state === "applied" || head.state === "discarded")
    return { problems: [notOpen(importId)] };
  const read = await readImport(db, importId, existingRows(db), tools);
  if (!read) return { stopped: true };
  writing(db, () => {
    keepPreview(db, importId, read);
    // There is nothing to confirm and nothing to answer: what is wrong stays to be read, the files do not.
    if (isUnreadable(read.summary) && leftOutNothing(db, importId)) discardImport(db, importId);
  });
  return { totals: read.summary.totals };
}

const leftOutNothing = (db: Db, importId: string): boolean =>
  importFiles(db, importId).every((f) => Object.values(f.answers).every((a) => !a.isLeftOut));

/** All accepted rows or nothing, and only what the person saw: the preview made anew must have the same digest. */
export async function importApplyJob(input: JobInput<"import-apply">, tools: JobTools) {
  const { db, report } = tools;
  const { importId, digest, by, userId } = input;
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const head = importById(db, importId);
    if (head?.state !== "previewed") return { problems: [notOpen(importId)] };
    const existing = existingRows(db);
    const read = await readImport(db, importId, existing, tools);
    if (!read) return { stopped: true };
    if (read.summary.digest !== digest) {
      writing(db, () => keepPreview(db, importId, read));
      return { problems: [DATA_CHANGED] };
    }
    report({ stage: "store", done: 0, total: 1 });
    const outcome = writing(db, () => {
      // The preview follows from files and standing rows alone: the same rows now mean the same preview.
      if (markOf(existingRows(db)) !== markOf(existing)) return undefined;
      return applyRead(db, importId, read, { by, userId });
    });
    if (outcome) return outcome.ok ? { stored: outcome.value } : { problems: outcome.problems };
  }
  return { problems: [DATA_CHANGED] };
}

function applyRead(
  db: Db,
  importId: string,
  read: ReadImport,
  { by, userId }: { by: string; userId: string | null },
): Result<ImportSummary["stored"]> {
  const now = nowMillis(db);
  const rows = rowsToStore(read.preview.bundle);
  const counts = storeRows(db, rows, {
    importId,
    by,
    now,
    today: today(homeZone(db), db),
    files: importFiles(db, importId).map((f) => f.fileName),
  });
  if (!counts.ok) return counts;
  storeWeather(db, read.series);
  const stored = { counts: counts.value, weatherSeries: read.series.length, at: now, by };
  setImportState(db, importId, "applied", { ...importById(db, importId)?.summary, ...read.summary, stored });
  addLogEntry(db, {
    at: now,
    userName: by,
    action: "import",
    subject: importId,
    detail: { files: importFiles(db, importId).map((f) => f.fileName), ...stored },
  });
  startAfterStored(db, counts.value, userId);
  return ok(stored);
}

interface ReadImport {
  preview: FilesPreview;
  series: readonly WeatherSeries[];
  summary: ImportSummary;
  lines: ReadonlyMap<number, FileLines>;
}

/** Reads and previews all files of the import. Undefined when the watcher asked to stop. */
async function readImport(
  db: Db,
  importId: string,
  existing: ExistingRows,
  { report, shouldStop }: JobTools,
): Promise<ReadImport | undefined> {
  const files = importFiles(db, importId);
  const stop = new AbortController();
  let preview: FilesPreview;
  try {
    preview = await previewFiles(
      files.map((f) => ({
        fileName: f.fileName,
        source: importFileBytes(db, importId, f.seq) ?? new Uint8Array(),
        ...f.answers[""],
        sheets: f.answers,
      })),
      existing,
      {
        onProgress: (progress) => {
          report(progress);
          if (shouldStop()) stop.abort();
        },
        signal: stop.signal,
        today: today(homeZone(db), db),
      },
    );
  } catch (thrown) {
    if (stop.signal.aborted) return undefined;
    throw thrown;
  }

  const series: WeatherSeries[] = [];
  const stand = new StandingHours(db);
  const tables = preview.matchings.map((m): TableHead => {
    const file = files.find((f) => f.fileName === m.fileName)!;
    const isIt = (p: { fileName: string; sheet?: string }) =>
      p.fileName === m.fileName && p.sheet === m.sheet;
    const rows = preview.bundle.files.find(isIt);
    const hours = preview.weather.find(isIt);
    const weather = hours && weatherHead(stand, nowMillis(db), hours, file.answers[m.sheet ?? ""]?.weather);
    series.push(...(weather?.series ?? []));
    const doubts = rows?.kind === "orders" ? doubtsOf(db, rows as Preview<"orders">) : [];
    return {
      seq: file.seq,
      fileName: m.fileName,
      ...(m.sheet !== undefined && { sheet: m.sheet }),
      kind: m.matching.kind,
      header: [...m.header],
      matching: m.matching,
      rowCount: m.rowCount,
      ...(m.encoding && { encoding: m.encoding }),
      ...(m.separator && { separator: m.separator }),
      ...(rows && { totals: rows.totals }),
      questions: (rows ?? hours)?.questions ?? [],
      notices: (rows ?? hours)?.notices ?? [],
      ...(doubts.length > 0 && { doubts }),
      ...(weather && { weather: weather.head }),
    };
  });
  addPlaceDoubts(db, preview, tables, series);
  const lines = new Map(files.map((f) => [f.seq, linesOf(preview, f.fileName)]));
  const weatherPart = tables.map((t) => t.weather && [t.fileName, t.sheet, t.weather]);
  const digest = createHash("sha256")
    .update(JSON.stringify([preview.bundle.digest, weatherPart]))
    .digest("hex");
  const { totals, problems } = preview.bundle;
  const ofRows = [...lines.values()].flatMap((f) => Object.values(f).flat());
  const refused = ofRows.flatMap((l) => l.problems ?? []).slice(0, MOST_REFUSALS_SHOWN);
  return {
    preview,
    series,
    lines,
    summary: {
      digest,
      totals,
      tables,
      problems: [...problems],
      skippedSheets: preview.skippedSheets,
      refused,
    },
  };
}

/** Slips that are likely come by the thousand when a column is wrong: the first ones say it. */
const MOST_DOUBTS_SHOWN = 20;

function doubtsOf(db: Db, preview: Preview<"orders">): Phrase[] {
  const day = today(homeZone(db), db);
  const measures = itemMeasures(db, day);
  return shortened(orderDoubts(preview.rows, day, (code) => measures.get(code)));
}

function shortened(all: Phrase[]): Phrase[] {
  const more = all.length - MOST_DOUBTS_SHOWN;
  return more <= 0
    ? all
    : [...all.slice(0, MOST_DOUBTS_SHOWN), phrase("and {{more}} more like these", { more: String(more) })];
}

/** Says of weather places and of the first hours of one which sites would read them: known once all files are read. */
function addPlaceDoubts(
  db: Db,
  preview: FilesPreview,
  tables: TableHead[],
  series: readonly WeatherSeries[],
): void {
  if (!tables.some((t) => t.kind === "weather places" || t.weather)) return;
  const places = placesOfImport(db, preview, series);
  for (const table of tables) {
    const rows = preview.bundle.files.find((f) => f.fileName === table.fileName && f.sheet === table.sheet);
    const doubts = table.weather
      ? firstHoursDoubts(
          table.weather.places.map((p) => p.placeCode),
          places,
        )
      : rows?.kind === "weather places"
        ? placeDoubts((rows as Preview<"weather places">).rows, places)
        : [];
    if (doubts.length > 0) table.doubts = shortened(doubts);
  }
}

function placesOfImport(db: Db, preview: FilesPreview, series: readonly WeatherSeries[]): PlacesOfImport {
  const stand = placesWithHours(db);
  const before = loadWeatherPlaces(db).map((p) => ({
    ...p,
    hasForecast: stand.forecast.has(p.code),
    hasPast: stand.history.has(p.code),
  }));
  const byCode = new Map<string, PlaceStand>(before.map((p) => [p.code, { ...p }]));
  for (const file of preview.bundle.files)
    if (file.kind === "weather places")
      for (const { value } of (file as Preview<"weather places">).rows)
        if (value) {
          const { hasForecast = false, hasPast = false } = byCode.get(value.code) ?? {};
          byCode.set(value.code, { ...value, hasForecast, hasPast });
        }
  for (const s of series) {
    const place = byCode.get(s.placeId);
    if (place && s.kind === "forecast") place.hasForecast = true;
    if (place && s.kind === "history") place.hasPast = true;
  }
  return {
    before,
    after: [...byCode.values()],
    sites: loadSites(db).flatMap((s) => s.position ?? []),
    radiusKm: rulesInForce(db).weatherPolicy.placeRadiusKm,
  };
}

function linesOf(preview: FilesPreview, fileName: string): FileLines {
  const lines: FileLines = {};
  for (const p of preview.bundle.files)
    if (p.fileName === fileName) lines[p.sheet ?? ""] = p.rows.map((r) => lineOf(r));
  for (const w of preview.weather)
    if (w.fileName === fileName)
      lines[w.sheet ?? ""] = w.problems.map((p) => ({ row: p.row ?? 0, fate: "refused", problems: [p] }));
  return lines;
}

function lineOf({ rowNumber, key, fate, changes, problems }: Preview["rows"][number]): PreviewLine {
  return {
    row: rowNumber,
    ...(key !== undefined && { key }),
    fate,
    ...(changes.length > 0 && { changes }),
    // What forms need to say it in other languages is left out: a preview may have many thousands of these.
    ...(problems.length > 0 && { problems }),
  };
}

/** Which hours are the same ones brought in anew: past hours of a place, or one issue of its forecast or of a member. */
interface SeriesName {
  placeCode: string;
  kind: WeatherSeries["kind"];
  issuedAtMillis: number;
  memberNo?: number;
}

/** Hours of each series, as they stand after the files that were read so far: a year may come in twelve files. */
class StandingHours {
  readonly #byName = new Map<string, readonly WeatherSeries[]>();
  constructor(readonly db: Db) {}

  of(name: SeriesName): readonly WeatherSeries[] {
    const key = keyOf(name);
    let series = this.#byName.get(key);
    if (!series) {
      series = this.#stored(name);
      this.#byName.set(key, series);
    }
    return series;
  }

  put(name: SeriesName, made: readonly WeatherSeries[]): void {
    // An issue is one series; of past hours each year is one.
    const replaced = new Set(made.map((m) => m.startsAtMillis));
    const kept = name.kind === "history" ? this.of(name).filter((s) => !replaced.has(s.startsAtMillis)) : [];
    this.#byName.set(keyOf(name), [...kept, ...made]);
  }

  #stored({ placeCode, kind, issuedAtMillis, memberNo }: SeriesName): WeatherSeries[] {
    if (kind === "history") return historyBlocks(this.db, placeCode).map((b) => decodeSeries(b.payload));
    if (kind === "forecast")
      return forecastBlocks(this.db, placeCode, issuedAtMillis).map((b) => decodeSeries(b.payload));
    const block = memberBlock(this.db, placeCode, issuedAtMillis);
    return block ? decodeMembers(block.payload).filter((m) => m.memberNo === memberNo) : [];
  }
}

const keyOf = ({ placeCode, kind, issuedAtMillis, memberNo }: SeriesName): string =>
  JSON.stringify([placeCode, kind, issuedAtMillis, memberNo ?? 0]);

function weatherHead(
  stand: StandingHours,
  now: number,
  reading: WeatherReading,
  given: WeatherAnswers | undefined,
): { series: WeatherSeries[]; head: WeatherHead } {
  const answers = given ?? guessedAnswers(reading, now);
  const isPast = answers.kind === "history";
  const problems: Problem[] = [];
  const made: { name: SeriesName; series: readonly WeatherSeries[] }[] = [];
  const places = reading.blocks.map((block) => {
    const { placeCode, memberNo } = block;
    if (!isPast && answers.issuedAtMillis === undefined) {
      problems.push(ISSUE_MISSING);
      return previewWeather(block, []);
    }
    if (isPast && memberNo !== undefined) {
      problems.push({ ...MEMBER_OF_THE_PAST, path: `${placeCode}: ${MEMBER_OF_THE_PAST.path}` });
      return previewWeather(block, []);
    }
    const name: SeriesName = {
      placeCode,
      kind: memberNo === undefined ? answers.kind : "member",
      issuedAtMillis: isPast ? 0 : answers.issuedAtMillis!,
      ...(memberNo !== undefined && { memberNo }),
    };
    const standing = stand.of(name);
    const fates = previewWeather(block, standing);
    const { kind, issuedAtMillis } = name;
    const series = seriesToStore(block, { ...answers, kind, issuedAtMillis, nowMillis: now }, standing);
    // Hours that change nothing are not stored again.
    if (!series.ok) problems.push(...series.problems.map((p) => ({ ...p, path: `${placeCode}: ${p.path}` })));
    else if (fates.newHours + fates.changedHours > 0) made.push({ name, series: series.value });
    return fates;
  });
  // A file with an open question waits as a whole.
  if (problems.length > 0) made.length = 0;
  for (const { name, series } of made) stand.put(name, series);
  const once = [...new Map(problems.map((p) => [JSON.stringify(p), p])).values()];
  const series = made.flatMap((m) => m.series);
  return { series, head: { answers, places, refusedRows: reading.refusedRows, problems: once } };
}

/** Hours that have all passed are history; anything else can only be a forecast. */
function guessedAnswers(reading: WeatherReading, now: number): WeatherAnswers {
  const last = Math.max(0, ...reading.blocks.map((b) => b.timeMillis.at(-1) ?? 0));
  return {
    kind: last < now ? "history" : "forecast",
    source: reading.fileName,
    isMadeUp: false,
    withoutThunder: "unknown",
    confirmed: [],
  };
}

function keepPreview(db: Db, importId: string, read: ReadImport): void {
  const jobId = importById(db, importId)?.summary.jobId;
  savePreview(db, importId, { ...read.summary, ...(jobId && { jobId }) }, read.lines);
}

function markOf(rows: ExistingRows): string {
  const hash = createHash("sha256");
  for (const [kind, map] of Object.entries(rows)) hash.update(JSON.stringify([kind, [...map.values()]]));
  return hash.digest("hex");
}

const MEMBER_OF_THE_PAST: Problem = {
  path: "Member",
  rule: "member-of-the-past",
  ...sentences(
    phrase("Members belong to a forecast; past hours happened once."),
    phrase("Take the Member column out, or answer below that this is a forecast."),
  ),
};

const ISSUE_MISSING: Problem = {
  path: "Issued at",
  rule: "forecast-issue-missing",
  ...sentences(
    phrase(
      "Some of these hours have not passed yet, so this is a forecast; the file does not say when it was issued.",
    ),
    phrase("Give the time of issue below, in UTC."),
  ),
};

const DATA_CHANGED: Problem = {
  path: "",
  rule: "data-changed",
  ...sentences(
    phrase("The data changed since this preview was made, so nothing was stored."),
    phrase("Look at the new preview below, and bring the rows in from there."),
  ),
};

const notOpen = (importId: string): Problem => ({
  path: "",
  rule: "import-not-open",
  value: importId,
  ...sentences(
    phrase("This import was applied or discarded already, or has no preview yet. Nothing was stored."),
    phrase("Bring the files in again."),
  ),
});
