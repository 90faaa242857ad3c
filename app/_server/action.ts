/**
 * The one way in for changes. An action says who may call it, what it accepts and what it does; session, role,
 * parsing, transaction and repeated sending are handled here.
 *
 *     "use server";
 *     export const holdHop = defineAction({
 *       name: "hold-hop",
 *       roles: ["manager", "administrator"],
 *       input: z.object({ hopId: z.string(), reason: z.string().min(3) }),
 *       run: ({ hopId, reason }, { db, visitor, now }) => ok(placeHold(db, hopId, reason, visitor.userId, now)),
 *       revalidate: ({ hopId }) => [`/hops/${hopId}`],
 *     });
 */
import { revalidatePath } from "next/cache";
import { headers } from "next/headers";
import type { z } from "zod";
import { type Db, database } from "@/db/open";
import type { Role } from "@/db/schema/auth";
import { figure, phrase } from "@/lib/phrase";
import { type Problem, type Result, sentences } from "@/lib/result";
import type { InstantMillis } from "@/lib/time";
import { bytesUpTo } from "./body";
import {
  carryOut,
  type ActionDefinition as Definition,
  foreignOrigin,
  problemsOf,
  refusalOf,
} from "./carryOut";
import { machineNow, nowMillis } from "./clock";
import { type Reach, regionRefusal } from "./regions";
import { type Visitor, visitorOf } from "./session";

export type { ActionContext } from "./carryOut";

export interface ActionDefinition<S extends z.ZodType, T, P = undefined> extends Definition<S, T, P> {
  /** Addresses to show anew after success. */
  revalidate?: readonly string[] | ((input: z.output<S>, value: T) => readonly string[]);
}

async function perform<S extends z.ZodType, T, P>(
  definition: ActionDefinition<S, T, P>,
  raw: unknown,
  key: string | undefined,
): Promise<Result<T>> {
  const db = database();
  const visitor = await visitorOf(await headers());
  const outcome = await carryOut(definition, raw, {
    db,
    visitor,
    key,
    now: nowMillis(db),
    machineNow: machineNow(),
  });
  if (outcome.result.ok && outcome.input !== undefined) {
    const { revalidate } = definition;
    const paths =
      typeof revalidate === "function" ? revalidate(outcome.input, outcome.result.value) : revalidate;
    for (const path of paths ?? []) revalidatePath(path);
  }
  return outcome.result;
}

/**
 * A server action called with a value. `key` (any unique text that the sender makes once per intent) makes it
 * carried out once however often it is sent.
 */
export function defineAction<S extends z.ZodType, T, P = undefined>(definition: ActionDefinition<S, T, P>) {
  return async (input: z.input<S>, key?: string): Promise<Result<T>> => perform(definition, input, key);
}

export interface RouteContext<Params> {
  db: Db;
  visitor: Visitor;
  now: InstantMillis;
  request: Request;
  params: Params;
}

type NextRouteContext<Params> = { params: Promise<Params> };

const STATUS_OF_RULE: Record<string, number> = {
  "signed-out": 401,
  role: 403,
  region: 403,
  "key-used-elsewhere": 409,
  "body-too-large": 413,
};

/** Problems as JSON, with the status that fits the first of them; 422 for whatever the trade refuses. */
export function problemResponse(problems: readonly Problem[]): Response {
  return Response.json({ ok: false, problems }, { status: STATUS_OF_RULE[problems[0]?.rule ?? ""] ?? 422 });
}

/** A route handler that reads. Search parameters are the input; what `run` returns goes out as JSON. */
export function defineRoute<S extends z.ZodType, Params = Record<string, never>>(definition: {
  roles: readonly Role[];
  input?: S;
  /** As of an action: what an account limited to regions may reach; left out, it is refused. */
  reach?: "any" | ((input: z.output<S>, db: Db) => Reach);
  run: (input: z.output<S>, context: RouteContext<Params>) => unknown;
}) {
  return async (request: Request, next: NextRouteContext<Params>): Promise<Response> => {
    const db = database();
    const visitor = await visitorOf(request.headers);
    const refusal = refusalOf(visitor, definition.roles);
    if (refusal || !visitor) return problemResponse(refusal ? [refusal] : []);
    const { reach } = definition;
    const whole = reach === undefined && regionRefusal(db, visitor, reach);
    if (whole) return problemResponse([whole]);
    const raw = Object.fromEntries(new URL(request.url).searchParams);
    const parsed = definition.input?.safeParse(raw);
    if (parsed && !parsed.success) return problemResponse(problemsOf(parsed.error));
    const input = parsed?.data as z.output<S>;
    const outside = typeof reach === "function" && regionRefusal(db, visitor, reach(input, db));
    if (outside) return problemResponse([outside]);
    const answer = await definition.run(input, {
      db,
      visitor,
      now: nowMillis(db),
      request,
      params: await next.params,
    });
    return answer instanceof Response ? answer : Response.json(answer);
  };
}

/** Far more than a report with all its counts needs. */
const BODY_MOST_BYTES = 1_000_000;

const BODY_TOO_LARGE: Problem = {
  path: "",
  rule: "body-too-large",
  ...sentences(
    phrase("What was sent is larger than {{most}} MB, so nothing was changed.", {
      most: figure(BODY_MOST_BYTES / 1_000_000, 0),
    }),
    phrase("Send it in parts."),
  ),
};

/** The body as JSON; nothing readable counts as an empty object, whose fields the action then misses. */
function jsonOf(bytes: Uint8Array): object {
  try {
    const body: unknown = JSON.parse(new TextDecoder().decode(bytes));
    return typeof body === "object" && body !== null ? body : {};
  } catch {
    return {};
  }
}

/** A route handler that changes something: an action over HTTP with a JSON body, for phones that send later. */
export function defineMutationRoute<S extends z.ZodType, T, P = undefined>(definition: Definition<S, T, P>) {
  return async (request: Request, next?: NextRouteContext<Record<string, string>>): Promise<Response> => {
    const foreign = foreignOrigin(request);
    if (foreign) return problemResponse([foreign]);
    const db = database();
    const bytes = await bytesUpTo(request, BODY_MOST_BYTES);
    if (!bytes) return problemResponse([BODY_TOO_LARGE]);
    const params = next ? await next.params : {};
    const { result } = await carryOut(
      definition,
      { ...jsonOf(bytes), ...params },
      {
        db,
        visitor: await visitorOf(request.headers),
        key: request.headers.get("idempotency-key") ?? undefined,
        now: nowMillis(db),
        machineNow: machineNow(),
      },
    );
    return result.ok ? Response.json(result) : problemResponse(result.problems);
  };
}
