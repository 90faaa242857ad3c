/**
 * Takes one file of an import as the request's body. Outside the pages' addresses on purpose: what passes proxy.ts is
 * held in memory by the framework and cut at 10 MB.
 */
import { z } from "zod";
import { problemResponse } from "@/app/_server/action";
import { bytesUpTo } from "@/app/_server/body";
import { carryOut, foreignOrigin, refusalOf } from "@/app/_server/carryOut";
import { machineNow, nowMillis } from "@/app/_server/clock";
import { visitorOf } from "@/app/_server/session";
import { IMPORTERS } from "@/app/(work)/import/kinds";
import { database } from "@/db/open";
import { addImportFile, importById } from "@/db/queries/imports";
import { fileSizeProblem, MAX_FILE_BYTES } from "@/lib/exchange";
import { ok, type Problem, refused } from "@/lib/result";

const MOST_NAME = 120;

export async function POST(request: Request, next: { params: Promise<{ id: string }> }): Promise<Response> {
  const foreign = foreignOrigin(request);
  if (foreign) return problemResponse([foreign]);
  const visitor = await visitorOf(request.headers);
  const refusal = refusalOf(visitor, IMPORTERS);
  if (refusal) return problemResponse([refusal]);

  const name = plainName(new URL(request.url).searchParams.get("name") ?? "");
  const stated = fileSizeProblem(name, Number(request.headers.get("content-length") ?? 0));
  const bytes = stated ? undefined : await bytesUpTo(request, MAX_FILE_BYTES);
  if (!bytes) return problemResponse([stated ?? (fileSizeProblem(name, MAX_FILE_BYTES + 1) as Problem)]);

  const db = database();
  const { id } = await next.params;
  const { result } = await carryOut(
    {
      name: "upload-import-file",
      roles: IMPORTERS,
      input: z.object({ id: z.string(), name: z.string().min(1, "The file has no name.") }),
      run: (input, { db }) =>
        importById(db, input.id)?.state === "read"
          ? ok({ seq: addImportFile(db, input.id, input.name, bytes) })
          : refused(NOT_OPEN),
    },
    { id, name },
    {
      db,
      visitor,
      key: request.headers.get("idempotency-key") ?? undefined,
      now: nowMillis(db),
      machineNow: machineNow(),
    },
  );
  return result.ok ? Response.json(result) : problemResponse(result.problems);
}

/** The last part of a path, without control characters. */
function plainName(given: string): string {
  const last = given.split(/[\\/]/).at(-1) ?? "";
  return last
    .replace(/\p{Cc}/gu, "")
    .trim()
    .slice(-MOST_NAME);
}

const NOT_OPEN: Problem = {
  path: "id",
  rule: "import-not-open",
  message: "This import takes no more files: it has been read already.",
  remedy: "Start a new import with all its files.",
};
