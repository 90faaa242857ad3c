/**
 * Every request to the open interface: key, how often, scope, input. No cookie counts here, so that no other site's
 * page can make a signed-in browser ask.
 */
import { createHash } from "node:crypto";
import type { z } from "zod";
import { type Db, database } from "@/db/open";
import { type InterfaceKey, noteKeyUse } from "@/db/queries/interfaceKeys";
import type { Problem, Result } from "@/lib/result";
import { clientAddress, noteFailure, rests } from "../attempts";
import { bytesUpTo } from "../body";
import { type ActionContext, carryOut, problemsOf, type Visitor } from "../carryOut";
import { machineNow, nowMillis } from "../clock";
import { keyOfSecret } from "./keys";
import type { Operation } from "./operations";
import { problemAnswer } from "./problem";
import { waitOfKey } from "./rateLimit";

const GUESSES = "interface by address";
const BODY_MOST_BYTES = 1_000_000;

type Params = Record<string, string>;
type NextContext = { params: Promise<Params> };

const problem = (rule: string, message: string, remedy: string, path = "", value?: unknown): Problem => ({
  path,
  rule,
  value,
  message,
  remedy,
});

/** The key that came with the request and may do this, or the answer that refuses it. */
function admit(db: Db, request: Request, { scope }: Operation): InterfaceKey | Response {
  const from = clientAddress(request.headers);
  if (rests(db, GUESSES, from))
    return problemAnswer(
      [problem("too-many-attempts", "Too many wrong keys came from this address.", "Wait 15 minutes.")],
      { "Retry-After": "900" },
    );
  const secret = /^Bearer ([A-Za-z0-9_-]{20,200})$/i.exec(request.headers.get("authorization") ?? "")?.[1];
  if (!secret)
    return problemAnswer(
      [problem("key-missing", "No key came with the request.", "Send it as Authorization: Bearer KEY.")],
      { "WWW-Authenticate": 'Bearer realm="bothends"' },
    );
  const invalid = { "WWW-Authenticate": 'Bearer realm="bothends", error="invalid_token"' };
  const key = keyOfSecret(db, secret);
  if (!key) {
    noteFailure(db, GUESSES, from);
    return problemAnswer(
      [
        problem(
          "key-unknown",
          "This key is unknown or was revoked.",
          "Ask the administrator of Bothends for another.",
        ),
      ],
      invalid,
    );
  }
  const now = machineNow();
  if (key.expiresAt !== null && key.expiresAt <= now)
    return problemAnswer(
      [
        problem(
          "key-expired",
          `The key "${key.name}" has run out.`,
          "Ask the administrator of Bothends for another.",
        ),
      ],
      invalid,
    );
  const waitS = waitOfKey(key.id, now);
  if (waitS > 0)
    return problemAnswer(
      [problem("too-many-requests", "The key asks too often.", `Wait ${waitS} s, then ask again.`)],
      { "Retry-After": String(waitS) },
    );
  if (!key.scopes.includes(scope))
    return problemAnswer(
      [
        problem(
          "key-scope",
          `The key "${key.name}" may not ${scope}.`,
          "Ask the administrator of Bothends for a key with this scope.",
          "",
          scope,
        ),
      ],
      {
        "WWW-Authenticate": `Bearer realm="bothends", error="insufficient_scope", scope="${scope}"`,
      },
    );
  noteKeyUse(db, key.id, now);
  return key;
}

const jsonAnswer = (body: unknown, headers: Record<string, string> = {}): Response =>
  Response.json(body, { headers: { "Cache-Control": "no-store", ...headers } });

/** A route that reads. Search parameters are the input. */
export function openRead<Q extends z.ZodObject, A extends z.ZodType>(
  operation: Operation<Q, A>,
  run: (query: z.output<Q>, context: { db: Db; params: Params }) => Result<z.input<A>>,
) {
  return async (request: Request, next: NextContext): Promise<Response> => {
    const db = database();
    const key = admit(db, request, operation);
    if (key instanceof Response) return key;
    const raw = Object.fromEntries(new URL(request.url).searchParams);
    const parsed = operation.query.strict().safeParse(raw, { reportInput: true });
    if (!parsed.success) return problemAnswer(problemsOf(parsed.error));
    const result = run(parsed.data as z.output<Q>, { db, params: await next.params });
    return result.ok ? jsonAnswer(result.value) : problemAnswer(result.problems);
  };
}

/** In whose name a key acts: the ledger and the log carry the key's. */
function visitorOf(key: InterfaceKey): Visitor {
  return {
    userId: `interface key ${key.id}`,
    name: `${key.name} (interface key)`,
    email: "",
    role: "logistics",
    crewId: null,
    regions: null,
    sessionId: "",
  };
}

function idempotencyKeyOf(request: Request): string | undefined {
  const given = request.headers.get("idempotency-key")?.trim() ?? "";
  return given.length >= 8 && given.length <= 120 ? given : undefined;
}

function jsonOf(bytes: Uint8Array): unknown {
  try {
    return JSON.parse(new TextDecoder().decode(bytes));
  } catch {
    return undefined;
  }
}

/** A route that changes something: once for each idempotency key, in one transaction. */
export function openPost<A extends z.ZodType, B extends z.ZodType>(
  operation: Operation<z.ZodObject, A, B> & { body: B },
  run: (
    body: z.output<B>,
    context: ActionContext & { params: Params; idempotencyKey: string },
  ) => Result<z.input<A>>,
) {
  return async (request: Request, next: NextContext): Promise<Response> => {
    const db = database();
    const key = admit(db, request, operation);
    if (key instanceof Response) return key;
    const given = idempotencyKeyOf(request);
    if (!given)
      return problemAnswer([
        problem(
          "idempotency-key-missing",
          "The header Idempotency-Key is missing, or has not 8 to 120 characters.",
          "Make one per delivery and send it with every attempt.",
          "Idempotency-Key",
        ),
      ]);
    const bytes = await bytesUpTo(request, BODY_MOST_BYTES);
    if (!bytes)
      return problemAnswer([
        problem("body-too-large", "The body is larger than 1 MB.", "Send the delivery in parts."),
      ]);
    const body = jsonOf(bytes);
    if (body === undefined)
      return problemAnswer([problem("body-no-json", "The body is no JSON.", "Send it as application/json.")]);
    const params = await next.params;
    const idempotencyKey = `${key.id} ${given}`;
    // What was sent is part of the name, so that one idempotency key for two deliveries is refused, not answered wrongly.
    const sent = createHash("sha256").update(JSON.stringify(params)).update(bytes).digest("hex");
    const outcome = await carryOut<B, z.input<A>, undefined>(
      {
        name: `${operation.id} ${sent}`,
        roles: ["logistics"],
        input: operation.body,
        run: (input, context) => run(input, { ...context, params, idempotencyKey }),
      },
      body,
      { db, visitor: visitorOf(key), key: idempotencyKey, now: nowMillis(db), machineNow: machineNow() },
    );
    return outcome.result.ok
      ? jsonAnswer(outcome.result.value, outcome.repeated ? { "Idempotent-Replayed": "true" } : {})
      : problemAnswer(outcome.result.problems);
  };
}
