"use server";

import { z } from "zod";
import { defineAction } from "@/app/_server/action";
import { startJob } from "@/app/_server/jobs";
import type { Db } from "@/db/open";
import { loadCatalogue, saveItem } from "@/db/queries/catalogue";
import {
  createImport,
  discardImport,
  importById,
  importFiles,
  removeImportFile,
  saveFileAnswers,
  setImportJob,
} from "@/db/queries/imports";
import { addLogEntry } from "@/db/queries/log";
import { KIND_NAMES, kindOf, unitsLike } from "@/lib/exchange";
import { phrase } from "@/lib/phrase";
import { ok, type Problem, refused, sentences } from "@/lib/result";
import { DEFAULT_CATALOGUE } from "@/lib/takeoff";
import { IMPORTERS } from "./kinds";

/** Opens an import; its files follow one by one. */
export const openImport = defineAction({
  name: "open-import",
  roles: IMPORTERS,
  input: z.object({}),
  run: (_input, { db, visitor, now }) => {
    const id = crypto.randomUUID();
    createImport(db, { id, createdBy: visitor.name, createdAt: now });
    return ok(id);
  },
});

/** Gives an installation without items the delivered catalogue: invented codes and prices, to be made its own. */
export const startCatalogue = defineAction({
  name: "start-catalogue",
  roles: IMPORTERS,
  input: z.object({}),
  run: (_input, { db, visitor, now }) => {
    if (loadCatalogue(db).length > 0) {
      return refused({
        path: "items",
        rule: "catalogue-not-empty",
        ...sentences(
          phrase("There are catalogue items already, so nothing was added."),
          phrase("Export the items, change them and bring them in again."),
        ),
      });
    }
    for (const item of DEFAULT_CATALOGUE) saveItem(db, item);
    addLogEntry(db, {
      at: now,
      userName: visitor.name,
      action: "start catalogue",
      subject: "items",
      detail: { items: DEFAULT_CATALOGUE.length },
    });
    startJob(db, "estimate", {}, visitor.userId);
    return ok(DEFAULT_CATALOGUE.length);
  },
  revalidate: ["/import"],
});

const pageOf = ({ importId }: { importId: string }) => ["/import", `/import/${importId}`];

/** Reads the files and previews every row, in the worker. */
export const previewImport = defineAction({
  name: "preview-import",
  roles: IMPORTERS,
  input: z.object({ importId: z.string() }),
  run: ({ importId }, { db, visitor }) => {
    if (!isOpen(db, importId)) return refused(NOT_OPEN);
    return ok(startPreview(db, importId, visitor.userId));
  },
  revalidate: pageOf,
});

const weatherAnswers = z.object({
  kind: z.enum(["history", "forecast"]),
  source: z.string().trim().min(1, "Say where the hours come from.").max(120),
  isMadeUp: z.boolean(),
  issuedAtMillis: z.number().optional(),
  withoutThunder: z.enum(["unknown", "none"]),
  confirmed: z.array(z.string()).max(50),
});

const tableAnswers = z.object({
  kind: z.enum(KIND_NAMES as [(typeof KIND_NAMES)[number], ...typeof KIND_NAMES]).optional(),
  isLeftOut: z.boolean().optional(),
  choices: z
    .array(
      z.object({ index: z.number().int().min(0), key: z.string().nullable(), unit: z.string().optional() }),
    )
    .max(300)
    .optional(),
  constants: z.record(z.string(), z.string().max(500)).optional(),
  options: z
    .object({
      decimalMark: z.enum(["point", "comma"]).optional(),
      dateOrder: z.enum(["day first", "month first"]).optional(),
      zone: z.string().max(60).optional(),
      missingCodes: z.array(z.number()).max(10).optional(),
      isStampedAtEnd: z.boolean().optional(),
    })
    .optional(),
  weather: weatherAnswers.optional(),
});

/** A person's word on one table; everything is read again with it. */
export const answerTable = defineAction({
  name: "answer-import-table",
  roles: IMPORTERS,
  input: z.object({
    importId: z.string(),
    seq: z.number().int(),
    /** "" for the one table of a text file. */
    sheet: z.string(),
    answers: tableAnswers,
  }),
  run: ({ importId, seq, sheet, answers }, { db, visitor }) => {
    const file = importFiles(db, importId).find((f) => f.seq === seq);
    if (!file || !isOpen(db, importId)) return refused(NOT_OPEN);
    const wrong = choiceProblems(db, importId, seq, sheet, answers);
    if (wrong.length > 0) return refused(...wrong);
    const kept = { ...file.answers, [sheet]: answers as (typeof file.answers)[string] };
    saveFileAnswers(db, importId, seq, kept);
    return ok(startPreview(db, importId, visitor.userId));
  },
  revalidate: pageOf,
});

/** Takes one file out of the import and reads the others again. */
export const leaveOutFile = defineAction({
  name: "leave-out-import-file",
  roles: IMPORTERS,
  input: z.object({ importId: z.string(), seq: z.number().int() }),
  run: ({ importId, seq }, { db, visitor }) => {
    if (!isOpen(db, importId)) return refused(NOT_OPEN);
    removeImportFile(db, importId, seq);
    return ok(startPreview(db, importId, visitor.userId));
  },
  revalidate: pageOf,
});

/** Stores all accepted rows, or nothing, in the worker. */
export const applyImport = defineAction({
  name: "apply-import",
  roles: IMPORTERS,
  input: z.object({ importId: z.string(), digest: z.string().min(1) }),
  run: ({ importId, digest }, { db, visitor }) => {
    if (importById(db, importId)?.state !== "previewed") return refused(NOT_OPEN);
    const { name, userId } = visitor;
    const jobId = startJob(db, "import-apply", { importId, digest, by: name, userId }, userId);
    setImportJob(db, importId, jobId);
    return ok(jobId);
  },
  revalidate: pageOf,
});

export const discard = defineAction({
  name: "discard-import",
  roles: IMPORTERS,
  input: z.object({ importId: z.string() }),
  run: ({ importId }, { db, visitor, now }) => {
    if (!isOpen(db, importId)) return refused(NOT_OPEN);
    discardImport(db, importId);
    addLogEntry(db, { at: now, userName: visitor.name, action: "import discarded", subject: importId });
    return ok(importId);
  },
  revalidate: pageOf,
});

function isOpen(db: Db, importId: string): boolean {
  const state = importById(db, importId)?.state;
  return state === "read" || state === "previewed";
}

function startPreview(db: Db, importId: string, userId: string): string {
  const jobId = startJob(db, "import-preview", { importId }, userId);
  setImportJob(db, importId, jobId);
  return jobId;
}

/** Choices name columns that the file and the kind have. */
function choiceProblems(
  db: Db,
  importId: string,
  seq: number,
  sheet: string,
  { kind, choices = [], constants = {} }: z.output<typeof tableAnswers>,
): Problem[] {
  if (choices.length === 0 && Object.keys(constants).length === 0) return [];
  const table = importById(db, importId)?.summary.tables?.find(
    (t) => t.seq === seq && (t.sheet ?? "") === sheet,
  );
  const columns = kindOf(kind ?? table?.kind ?? "sites").columns;
  const isColumn = (key: string) => columns.some((c) => c.key === key);
  const isRight = choices.every(({ index, key, unit }) => {
    const column = columns.find((c) => c.key === key);
    const unitFits = unit === undefined || (column?.unit && unitsLike(column.unit).some((u) => u === unit));
    return table?.header[index] !== undefined && (key === null || column) && unitFits;
  });
  if (isRight && Object.keys(constants).every(isColumn)) return [];
  return [
    {
      path: "choices",
      rule: "no-such-column",
      ...sentences(
        phrase("A chosen column is not in the file or does not belong to this kind of rows."),
        phrase("Reload the page and choose again."),
      ),
    },
  ];
}

const NOT_OPEN: Problem = {
  path: "",
  rule: "import-not-open",
  ...sentences(
    phrase("This import was applied or discarded already."),
    phrase("Bring the files in again as a new import."),
  ),
};
