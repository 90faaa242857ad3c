/** Changing rule data: what a change makes of the version in force, who may save it, and what follows. */

import { z } from "zod";
import type { Db } from "@/db/open";
import { currentPolicy, policyHistory } from "@/db/queries/catalogue";
import { activeJobOfKind, jobById } from "@/db/queries/jobs";
import { saveVersion, staleVersion } from "@/db/queries/rules";
import type { PolicyKind } from "@/db/schema";
import { NO_CALIBRATION } from "@/lib/calibration";
import { fullNorms, type HourNorms } from "@/lib/hours";
import { phrase } from "@/lib/phrase";
import { ok, type Problem, type Result, refused, sentences } from "@/lib/result";
import { DEFAULT_RULES, parseRules, type TakeoffRule, withRules } from "@/lib/takeoff";
import { type PolicyChange, policyChanges, type WeatherPolicy } from "@/lib/weather";
import { acceptedFactors } from "./calibrationEdits";
import { type ActionDefinition, refusalOf, type Visitor } from "./carryOut";
import { startJob } from "./jobs";
import { netAgain } from "./netAgain";
import {
  ASKS_ESTIMATE,
  ASKS_NETTING,
  changeKey,
  EFFECT_FIRST,
  MAY_CHANGE,
  type RuleChange,
  type WantedChange,
  wantedChange,
} from "./ruleChange";
import { changeFigures } from "./ruleFigures/changeFigures";
import { deliveredBody, figuresOf, isFigureKind } from "./ruleFigures/figuresOf";
import { acceptedAllowances } from "./useEdits";

/** The rule data of a kind as they are in force. */
export function bodyInForce(db: Db, kind: PolicyKind): unknown {
  const stored = currentPolicy(db, kind)?.body;
  if (stored === undefined) return delivered(kind);
  return kind === "hour norms" ? fullNorms(stored as HourNorms) : stored;
}

function delivered(kind: PolicyKind): unknown {
  if (kind === "hour calibration") return NO_CALIBRATION;
  return isFigureKind(kind) ? deliveredBody(kind) : DEFAULT_RULES;
}

/** What the change makes of the version in force; refused with everything that is wrong with it. */
export function changedBody(db: Db, kind: PolicyKind, change: RuleChange): Result<unknown> {
  const body = bodyInForce(db, kind);
  if ("restore" in change) {
    if (change.restore === 0) return ok(delivered(kind));
    const version = policyHistory(db, kind).find((v) => v.version === change.restore);
    if (version) return ok(version.body);
    return refused({
      path: "restore",
      rule: "version-unknown",
      value: change.restore,
      ...sentences(
        phrase("There is no version {{restore}}.", { restore: String(change.restore) }),
        phrase("Choose one from the history."),
      ),
    });
  }
  if ("figures" in change) {
    return isFigureKind(kind) ? changeFigures(kind, body, change.figures) : refused(wrongForm(kind));
  }
  if ("accept" in change) {
    if (kind === "hour calibration") return acceptedFactors(db, change.accept);
    return kind === "takeoff rules" ? acceptedAllowances(db, change.accept) : refused(wrongForm(kind));
  }
  if (kind !== "takeoff rules") return refused(wrongForm(kind));
  const rows = parseRules(change.rows);
  if (!rows.ok) return refused(...rows.problems.map(withoutIndex));
  return parseRules(withRules(body as readonly TakeoffRule[], rows.value));
}

/** A dialog has one row: `[0].factor` is `factor` there. */
const withoutIndex = (p: Problem): Problem => ({ ...p, path: p.path.replace(/^\[0\]\./, "") });

const wrongForm = (kind: PolicyKind): Problem => ({
  path: "change",
  rule: "change-form",
  value: kind,
  ...sentences(
    phrase("A change of {{kind}} does not come in this form.", { kind: String(kind) }),
    phrase("Reload the page and make the change there."),
  ),
});

/** For the log and the history: what a change did, figure by figure or row by row. */
function told(db: Db, kind: PolicyKind, change: RuleChange): unknown {
  if ("restore" in change) return { restored: change.restore === 0 ? "as delivered" : change.restore };
  if ("accept" in change) return change.accept;
  if ("figures" in change && isFigureKind(kind)) {
    const known = figuresOf(kind, bodyInForce(db, kind)).flatMap((g) =>
      g.figures.map(
        (f) => [f.path, { label: `${g.title}: ${f.label}`, before: f.value, unit: f.unit }] as const,
      ),
    );
    const was = new Map(known);
    return change.figures.map((f) => ({ ...was.get(f.path), after: f.value }));
  }
  const before = new Map((bodyInForce(db, kind) as readonly TakeoffRule[]).map((r) => [r.id, r]));
  const rows = "rows" in change ? (change.rows as TakeoffRule[]) : [];
  return rows.map((after) => {
    const was = before.get(after.id) as unknown as Record<string, unknown> | undefined;
    if (!was) return { rule: after.id, added: after };
    const fields = Object.entries(after).filter(([k, v]) => JSON.stringify(was[k]) !== JSON.stringify(v));
    return { rule: after.id, changed: fields.map(([field, v]) => ({ field, before: was[field], after: v })) };
  });
}

/** A reason for a looser limit is more than a word. */
const LOOSER_REASON_MIN = 15;

/** Weather limits that become looser ask for an administrator and a reason in a sentence. */
function refusedLooser(before: unknown, after: unknown, reason: string, visitor: Visitor): Problem[] {
  const looser = policyChanges(before as WeatherPolicy, after as WeatherPolicy).filter((c) => c.isLooser);
  if (looser.length === 0) return [];
  const names = new Map(
    figuresOf("weather limits", before).flatMap((g) =>
      g.figures.map((f) => [f.path, `${g.title}: ${f.label}`] as const),
    ),
  );
  const label = ({ workClass, field }: PolicyChange) =>
    names.get(workClass === "all" ? field : `limits.${workClass}.${field}`) ?? field;
  const words = (v: unknown) => (v === undefined ? "no limit" : String(v));
  if (visitor.role !== "administrator")
    return looser.map((c) => ({
      path: label(c),
      rule: "looser-by-administrator-only",
      value: words(c.after),
      ...sentences(
        phrase("This is looser than {{before}}, or cannot be told to be stricter.", {
          before: String(words(c.before)),
        }),
        phrase("Only an administrator may make a limit looser, with a reason; you may make it stricter."),
      ),
    }));
  if (reason.length >= LOOSER_REASON_MIN) return [];
  return [
    {
      path: "reason",
      rule: "looser-needs-reason",
      value: reason,
      ...sentences(
        looser.length === 1
          ? phrase("A limit becomes looser; that asks for a reason in a sentence.")
          : phrase("{{limits}} limits become looser; that asks for a reason in a sentence.", {
              limits: String(looser.length),
            }),
        phrase("Say in at least {{letters}} characters why, and on whose decision.", {
          letters: String(LOOSER_REASON_MIN),
        }),
      ),
    },
  ];
}

const same = (a: unknown, b: unknown) => JSON.stringify(a) === JSON.stringify(b);

/** Do two versions of a kind say the same, as when an earlier one was brought back? */
export function saysTheSame(db: Db, kind: PolicyKind, a: number, b: number): boolean {
  if (a === b) return true;
  // Accepted factors follow the work done: each version has its own.
  if (kind === "hour calibration") return false;
  const history = policyHistory(db, kind);
  const body = (version: number) =>
    version === 0 ? delivered(kind) : history.find((v) => v.version === version)?.body;
  return same(body(a), body(b));
}

const NO_CHANGE: Problem = {
  path: "change",
  rule: "nothing-changed",
  ...sentences(
    phrase("This changes nothing: every figure is as it stands in force."),
    phrase("Change a figure, or close the dialog."),
  ),
};

/** Whether the job has shown the effect of exactly this change. */
function effectProblem(db: Db, wanted: WantedChange, jobId: string | undefined): Problem | undefined {
  if (!EFFECT_FIRST.includes(wanted.kind)) return undefined;
  const job = jobId ? jobById(db, jobId) : undefined;
  const asked = job?.kind === "rule-effect" ? wantedChange.safeParse(job.input) : undefined;
  const isShown = job?.state === "done" && asked?.success && changeKey(asked.data) === changeKey(wanted);
  if (isShown) return undefined;
  return {
    path: "effect",
    rule: "effect-not-shown",
    value: job?.state ?? "not asked for",
    ...sentences(
      phrase("The effect of this change on the whole programme has not been shown yet."),
      phrase("Press “Show the effect”, read it, then save."),
    ),
  };
}

const reason = z
  .string()
  .trim()
  .min(3, "Say in a few words why.")
  .max(300, "A reason may have 300 characters at most.");

/** Starts the job that shows what a change would do; gives its id. The change itself is checked first. */
export const showEffectAction: ActionDefinition<typeof wantedChange, string> = {
  name: "show-rule-effect",
  roles: ["administrator", "manager", "logistics"],
  changesData: false,
  input: wantedChange,
  run: (wanted, { db, visitor }) => {
    const role = refusalOf(visitor, MAY_CHANGE[wanted.kind]);
    if (role) return refused({ ...role, path: wanted.kind });
    const stale = staleVersion(db, wanted.kind, wanted.basedOn);
    if (stale) return refused(stale);
    const body = changedBody(db, wanted.kind, wanted.change);
    if (!body.ok) return body;
    return ok(startJob(db, "rule-effect", wanted, visitor.userId));
  },
};

const saveInput = wantedChange.extend({ reason, effectJobId: z.string().max(60).optional() });

/** Saves a change as a new version. Take-off and hours are then brought up to date by a job. */
export const saveRulesAction: ActionDefinition<typeof saveInput, { version: number; jobId?: string }> = {
  name: "save-rules",
  roles: ["administrator", "manager", "logistics"],
  input: saveInput,
  run: ({ reason: why, effectJobId, ...wanted }, { db, visitor, now }) => {
    const { kind, basedOn, change } = wanted;
    const role = refusalOf(visitor, MAY_CHANGE[kind]);
    if (role) return refused({ ...role, path: kind });
    const stale = staleVersion(db, kind, basedOn);
    if (stale) return refused(stale);
    const before = bodyInForce(db, kind);
    const body = changedBody(db, kind, change);
    if (!body.ok) return body;
    if (same(withoutVersion(before), withoutVersion(body.value))) return refused(NO_CHANGE);
    if (kind === "weather limits") {
      const looser = refusedLooser(before, body.value, why, visitor);
      if (looser.length > 0) return refused(...looser);
    }
    const unseen = effectProblem(db, wanted, effectJobId);
    if (unseen) return refused(unseen);
    const detail =
      kind === "weather limits"
        ? policyChanges(before as WeatherPolicy, body.value as WeatherPolicy)
        : told(db, kind, change);
    const saved = saveVersion(
      db,
      { kind, body: body.value, basedOn, reason: why, detail },
      { name: visitor.name, at: now },
    );
    if (!saved.ok) return saved;
    const jobId = ASKS_ESTIMATE.includes(kind)
      ? startEstimate(db, visitor)
      : ASKS_NETTING.includes(kind)
        ? netAgain(db, visitor)
        : undefined;
    return ok({ version: saved.value, jobId });
  },
};

function withoutVersion(body: unknown): unknown {
  if (typeof body !== "object" || body === null || Array.isArray(body)) return body;
  const { version: _, ...rest } = body as Record<string, unknown>;
  return Object.fromEntries(Object.entries(rest).sort(([a], [b]) => (a < b ? -1 : 1)));
}

/** An estimate that still waits in the queue reads the new version anyway; one that runs has read the old. */
function startEstimate(db: Db, visitor: Visitor): string {
  const active = activeJobOfKind(db, "estimate");
  return active?.state === "queued" ? active.id : startJob(db, "estimate", {}, visitor.userId);
}
