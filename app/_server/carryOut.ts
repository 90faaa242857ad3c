/** What every change goes through, free of Next so that tests call it directly. action.ts is its public face. */
import type { z } from "zod";
import { type Db, writing } from "@/db/open";
import { answerForKey, keepAnswer } from "@/db/queries/idempotency";
import { readSetting, writeSetting } from "@/db/queries/settings";
import type { Role } from "@/db/schema/auth";
import { phrase } from "@/lib/phrase";
import { type Problem, type Result, refused, sentences } from "@/lib/result";
import type { InstantMillis } from "@/lib/time";
import { type Reach, regionRefusal } from "./regions";
import { rolesPhrase } from "./roles";

/** Who is asking. */
export interface Visitor {
  userId: string;
  name: string;
  email: string;
  role: Role;
  /** The crew that a crew lead reports for. */
  crewId: string | null;
  /** Regions of sites that this person works with; null for all of them. */
  regions: readonly string[] | null;
  /** The session that is asking: the one that "end all others" keeps. */
  sessionId: string;
}

export interface ActionContext {
  /** Inside `run`: in a BEGIN IMMEDIATE transaction; what it writes is kept together or not at all. */
  db: Db;
  visitor: Visitor;
  /** The programme's time (clock.ts). */
  now: InstantMillis;
}

export interface ActionDefinition<S extends z.ZodType, T, P = undefined> {
  /** Stable and unique: keys of repeated sending belong to it. */
  name: string;
  /** Who may call it; empty: anybody who is signed in. */
  roles: readonly Role[];
  input: S;
  /** What an account limited to regions may reach with it; left out, such an account is refused (regions.ts). */
  reach?: "any" | ((input: z.output<S>, db: Db) => Reach);
  /** False for what leaves the programme's data as they are, such as stopping a job. Default true. */
  changesData?: boolean;
  /**
   * True for an answer that is shown once and must not be kept: its key is not remembered, so that what is sent twice
   * is carried out twice. Default false.
   */
  isAnswerSecret?: boolean;
  /** Slow or asynchronous work that must not hold the write lock, e.g. hashing a password, reading a file. */
  prepare?: (input: z.output<S>, context: ActionContext) => Promise<Result<P>>;
  /** Synchronous. A refused result rolls everything back. */
  run: (input: z.output<S>, context: ActionContext, prepared: P) => Result<T>;
}

export interface Call {
  db: Db;
  visitor: Visitor | undefined;
  /** Unique text that the sender makes once per intent and sends with every attempt. */
  key: string | undefined;
  now: InstantMillis;
  machineNow: InstantMillis;
}

/** The result, and the parsed input when it came that far. `repeated`: the answer of an earlier attempt. */
export interface Outcome<I, T> {
  result: Result<T>;
  input?: I;
  repeated: boolean;
}

export function mayAct(visitor: Visitor, roles: readonly Role[]): boolean {
  return roles.length === 0 || roles.includes(visitor.role);
}

/** Why this visitor may not do what is for `roles`; undefined when they may. */
export function refusalOf(visitor: Visitor | undefined, roles: readonly Role[]): Problem | undefined {
  if (!visitor)
    return {
      path: "",
      rule: "signed-out",
      ...sentences(
        phrase("You are not signed in, or your session has ended."),
        phrase("Sign in, then try again."),
      ),
    };
  if (mayAct(visitor, roles)) return undefined;
  return {
    path: "",
    rule: "role",
    value: visitor.role,
    ...sentences(
      phrase("This is for {{roles}}; you are signed in as {{role}}.", {
        roles: rolesPhrase(roles),
        role: phrase(visitor.role),
      }),
      phrase("Ask one of them to do it, or an administrator to change your role."),
    ),
  };
}

/** What was typed here is never sent back; the last three are the password fields of the account page. */
const SECRET_FIELD = /password|token|^(current|next|again)$/i;

/** zod's issues as problems: one each, with the path as `odus[1].bandGhz`. */
export function problemsOf(error: z.ZodError): Problem[] {
  return error.issues.map((issue) => ({
    path: issue.path
      .map((step, i) =>
        typeof step === "number" ? `[${step}]` : i === 0 ? String(step) : `.${String(step)}`,
      )
      .join(""),
    rule: `input-${issue.code.replaceAll("_", "-")}`,
    value: SECRET_FIELD.test(issue.path.join(".")) ? undefined : issue.input,
    message: issue.message,
    remedy:
      issue.input === "" || issue.input === undefined || issue.input === null
        ? "Fill it in and send it again."
        : "Correct this value and send it again.",
  }));
}

/** Thrown inside the transaction to undo it; never leaves this file. */
class Rollback extends Error {
  constructor(readonly problems: readonly Problem[]) {
    super("rolled back");
  }
}

const KEY_USED_ELSEWHERE: Problem = {
  path: "",
  rule: "key-used-elsewhere",
  ...sentences(
    phrase("This key was used before for something else, so nothing was changed."),
    phrase("Reload the page and try again."),
  ),
};

export async function carryOut<S extends z.ZodType, T, P>(
  definition: ActionDefinition<S, T, P>,
  raw: unknown,
  call: Call,
): Promise<Outcome<z.output<S>, T>> {
  const { db, visitor, now } = call;
  const refusal = refusalOf(visitor, definition.roles);
  if (refusal || !visitor) return { result: refused(...(refusal ? [refusal] : [])), repeated: false };

  const { reach } = definition;
  const whole = reach === undefined && regionRefusal(db, visitor, reach);
  if (whole) return { result: refused(whole), repeated: false };

  const parsed = definition.input.safeParse(raw, { reportInput: true });
  if (!parsed.success) return { result: refused(...problemsOf(parsed.error)), repeated: false };
  const input = parsed.data;
  const outside = typeof reach === "function" && regionRefusal(db, visitor, reach(input, db));
  if (outside) return { result: refused(outside), repeated: false };
  const context: ActionContext = { db, visitor, now };
  const use =
    call.key && !definition.isAnswerSecret
      ? { key: call.key, userId: visitor.userId, action: definition.name }
      : undefined;

  const earlier = use && answerForKey(db, use);
  if (earlier) return repeat<z.output<S>, T>(earlier, input);

  let prepared = undefined as P;
  if (definition.prepare) {
    const preparation = await definition.prepare(input, context);
    if (!preparation.ok) return { result: preparation, input, repeated: false };
    prepared = preparation.value;
  }

  try {
    return writing(db, (): Outcome<z.output<S>, T> => {
      // Again, now that nobody else can write: two attempts may have passed the first look side by side.
      const meanwhile = use && answerForKey(db, use);
      if (meanwhile) return repeat<z.output<S>, T>(meanwhile, input);
      const result = definition.run(input, context, prepared);
      if (!result.ok) throw new Rollback(result.problems);
      if (use) keepAnswer(db, use, result, call.machineNow);
      if (definition.changesData !== false && readSetting(db, "demoTouched") === false)
        writeSetting(db, "demoTouched", true);
      return { result, input, repeated: false };
    }) as Outcome<z.output<S>, T>;
  } catch (thrown) {
    if (thrown instanceof Rollback) return { result: refused(...thrown.problems), input, repeated: false };
    throw thrown;
  }
}

function repeat<I, T>(earlier: { result: unknown } | "other", input: I): Outcome<I, T> {
  if (earlier === "other") return { result: refused(KEY_USED_ELSEWHERE), input, repeated: false };
  return { result: earlier.result as Result<T>, input, repeated: true };
}

/** A browser names the page that a request comes from; a change asked for by another site's page is refused. */
export function foreignOrigin(request: Request): Problem | undefined {
  const origin = request.headers.get("origin");
  const host = request.headers.get("x-forwarded-host") ?? request.headers.get("host");
  if (!origin || (URL.canParse(origin) && new URL(origin).host === host)) return undefined;
  return {
    path: "",
    rule: "role",
    value: origin,
    ...sentences(
      phrase("This change was asked for by a page of another site."),
      phrase("Open this programme's own page and try again there."),
    ),
  };
}
