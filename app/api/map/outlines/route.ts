/** Takes a file of outlines as the request's body (as app/api/imports takes its files, and for the same reason). */
import { problemResponse } from "@/app/_server/action";
import { bytesUpTo } from "@/app/_server/body";
import { carryOut, foreignOrigin, refusalOf } from "@/app/_server/carryOut";
import { machineNow, nowMillis } from "@/app/_server/clock";
import { GROUND_ROLES, keepOutlines } from "@/app/_server/mapGround";
import { visitorOf } from "@/app/_server/session";
import { database } from "@/db/open";
import { MAX_OUTLINE_BYTES } from "@/lib/map";
import type { Problem } from "@/lib/result";

const TOO_LARGE: Problem = {
  path: "",
  rule: "body-too-large",
  message: `The file is larger than ${MAX_OUTLINE_BYTES / 1_000_000} MB.`,
  remedy: "Simplify the lines, or leave out what does not help to find a site.",
};

export async function POST(request: Request): Promise<Response> {
  const foreign = foreignOrigin(request);
  if (foreign) return problemResponse([foreign]);
  const visitor = await visitorOf(request.headers);
  // Before the bytes are read: nobody else's are waited for.
  const refusal = refusalOf(visitor, GROUND_ROLES);
  if (refusal) return problemResponse([refusal]);
  const bytes = await bytesUpTo(request, MAX_OUTLINE_BYTES);
  if (!bytes) return problemResponse([TOO_LARGE]);
  const db = database();
  const { result } = await carryOut(
    keepOutlines,
    {
      label: new URL(request.url).searchParams.get("label") ?? "",
      text: new TextDecoder().decode(bytes),
    },
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
