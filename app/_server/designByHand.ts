/**
 * One site or one hop entered or changed on a page. What is typed goes the way of a file's rows: read, checked and
 * compared by lib/exchange, written by storeRows. Only what a file cannot know is asked here: whether the record is
 * new, and whether it still is what the form was opened with.
 */
import { createHash } from "node:crypto";
import type { Db } from "@/db/open";
import { existingAround, existingSites, rowOfSite, rowsOfHop } from "@/db/queries/existingRows";
import { loadHung } from "@/db/queries/hung";
import { addLogEntry } from "@/db/queries/log";
import { hopCodesAtSite } from "@/db/queries/siteViews";
import { storeRows } from "@/db/queries/storeRows";
import {
  type BundlePreview,
  cleanText,
  type DecimalMark,
  type Fate,
  kindOf,
  previewTyped,
  rowsToStore,
  type TakenOut,
  type TypedRow,
} from "@/lib/exchange";
import { phrase } from "@/lib/phrase";
import { ok, type Problem, type Result, refused, sentences } from "@/lib/result";
import { startAfterStored } from "./afterStored";
import type { ActionContext } from "./carryOut";
import { homeZone, today } from "./clock";
import { estimateAtOnce } from "./planning";

export type RecordKind = "site" | "hop";

export interface ByHand {
  kind: RecordKind;
  /** The record that the form was opened with; null for a new one. */
  opened: { code: string; mark: string } | null;
  /** The record's own row comes first. */
  rows: readonly TypedRow[];
  /** Rows of it that stand and are taken out. */
  out?: readonly TypedRow[];
  decimal: DecimalMark;
}

export interface Prepared {
  code: string;
  bundle: BundlePreview;
  takenOut: readonly TakenOut[];
}

export interface SavedByHand {
  code: string;
  fate: Exclude<Fate, "refused">;
}

const ADDED = { site: "add site", hop: "add hop" } as const;
const CHANGED = { site: "change site", hop: "change hop" } as const;

/** Tells whether a record is what it was: another mark, and somebody changed it. "" when there is no such record. */
export function markOf(db: Db, kind: RecordKind, code: string): string {
  const rows = kind === "site" ? rowOfSite(db, code) : rowsOfHop(db, code);
  return rows ? createHash("sha256").update(JSON.stringify(rows)).digest("base64url").slice(0, 22) : "";
}

/** Reads and checks what was typed. Nothing is written, and nobody else is kept from writing. */
export async function prepareByHand(db: Db, typed: ByHand): Promise<Result<Prepared>> {
  const existing =
    typed.kind === "site"
      ? existingSites(db)
      : existingAround(db, typed.opened?.code ?? cleanText(typed.rows[0]?.cells.code ?? ""));
  const { bundle, problems, takenOut } = await previewTyped(typed.rows, existing, typed.decimal, typed.out);
  const code = typed.opened?.code ?? bundle.files[0]?.rows[0]?.key ?? "";
  const stood = standing(db, typed, code);
  if (stood) return refused(stood);
  const missing = typed.opened === null ? missingSites(typed, problems) : [];
  const all = [...problems.map((p) => atTheSite(typed, p)), ...missing, ...hanging(db, typed, code)];
  return all.length > 0 ? refused(...all) : ok({ code, bundle, takenOut });
}

/**
 * Writes what was prepared, inside the action's transaction. Sites and items are never deleted, so that what the rows
 * refer to is still there; the record itself is looked at once more.
 */
export function storeByHand(
  typed: ByHand,
  { code, bundle, takenOut }: Prepared,
  { db, visitor, now }: ActionContext,
): Result<SavedByHand> {
  const stood = standing(db, typed, code);
  if (stood) return refused(stood);
  const hangs = hanging(db, typed, code);
  if (hangs.length > 0) return refused(...hangs);
  const rows = rowsToStore(bundle);
  const isNew = typed.opened === null;
  const own = bundle.files[0]?.rows[0]?.value;
  // What is taken out changes the hop, whose own row may be as it was.
  if (takenOut.length > 0 && own && !rows.some((r) => r.kind === "hops"))
    rows.push({ kind: "hops", rows: [own] });
  // Saved as it was: nothing for the log, and no plan is out of date by it.
  if (rows.length === 0) return ok({ code, fate: "same" });
  const day = today(homeZone(db), db);
  const counts = storeRows(db, rows, {
    importId: crypto.randomUUID(),
    by: visitor.name,
    now,
    today: day,
    takenOut,
  });
  if (!counts.ok) return counts;
  addLogEntry(db, {
    at: now,
    userName: visitor.name,
    action: isNew ? ADDED[typed.kind] : CHANGED[typed.kind],
    subject: `${typed.kind} ${code}`,
    detail: isNew ? { rows: counts.value } : { changes: [...changesOf(bundle), ...takenOut.map(outWords)] },
  });
  estimateAtOnce(db, hopsOf(db, typed.kind, code), day);
  startAfterStored(db, counts.value, visitor.userId);
  return ok({ code, fate: isNew ? "new" : "changed" });
}

/** Hops of a site that are worked out while the person waits; the worker does the others of a larger one. */
const HOPS_AT_ONCE = 8;

const hopsOf = (db: Db, kind: RecordKind, code: string): string[] =>
  kind === "hop" ? [code] : hopCodesAtSite(db, code).slice(0, HOPS_AT_ONCE);

/** Why the record may not be written over; undefined when it stands as the form knows it. */
function standing(db: Db, { kind, opened, rows }: ByHand, code: string): Problem | undefined {
  const mark = code === "" ? "" : markOf(db, kind, code);
  if (opened === null) {
    if (mark === "") return undefined;
    return {
      path: `${rows[0]?.at}.code`,
      rule: `${kind}-exists`,
      value: code,
      ...sentences(
        kind === "site"
          ? phrase("Site {{code}} exists already, so nothing was saved.", { code })
          : phrase("Hop {{code}} exists already, so nothing was saved.", { code }),
        phrase("Change the one that is there, or give this one another code."),
      ),
    };
  }
  if (mark === opened.mark) return undefined;
  return {
    path: "",
    rule: "changed-meanwhile",
    value: code,
    ...sentences(
      phrase("Somebody changed {{code}} since you opened the form, so nothing was saved.", { code }),
      phrase("Open the form anew beside this one, look at what is different, and enter your change there."),
    ),
  };
}

const SITE_FIELDS = ["nearSiteCode", "farSiteCode"] as const;

/** A file may bring a hop whose sites are not known yet; who enters one by hand says from where to where it goes. */
function missingSites({ kind, rows }: ByHand, problems: readonly Problem[]): Problem[] {
  const own = rows[0];
  if (kind !== "hop" || !own) return [];
  return SITE_FIELDS.filter((key) => !own.cells[key]?.trim())
    .map((key) => `${own.at}.${key}`)
    .filter((path) => !problems.some((p) => p.path === path))
    .map((path) => ({
      path,
      rule: "hop-needs-two-sites",
      value: "",
      ...sentences(
        phrase("A hop goes from one site to another."),
        phrase("Choose the site; add it first when it is not there."),
      ),
    }));
}

/** That an end has no site is said where its site is chosen. */
function atTheSite({ rows }: ByHand, problem: Problem): Problem {
  if (problem.rule !== "end-without-site") return problem;
  return { ...problem, path: `${rows[0]?.at}.${problem.value === "near" ? SITE_FIELDS[0] : SITE_FIELDS[1]}` };
}

/** A radio that hangs there by the books comes down first: its serial would have no place. */
function hanging(db: Db, { out = [] }: ByHand, code: string): Problem[] {
  const radios = out.filter((row) => row.kind === "radios");
  if (radios.length === 0) return [];
  const hung = loadHung(db, { hopCodes: [code], onlyStanding: true });
  return radios.flatMap(({ at, cells }) =>
    hung
      .filter((h) => h.side === cells.side && h.oduLabel === cells.label)
      .map((h) => ({
        path: `${at}.label`,
        rule: "radio-hangs",
        value: h.serial,
        ...sentences(
          phrase("Radio {{label}} hangs there with the serial {{serial}}, so it was not taken out.", {
            label: h.oduLabel,
            serial: h.serial,
          }),
          phrase("Say on the site's page that it was taken down, then take it out here."),
        ),
      })),
  );
}

const outWords = ({ kind, key }: TakenOut): string => `${kindOf(kind).title} ${key}, taken out`;

/** What the log keeps of a change: "Promise date: 2027-03-31 to 2027-04-30", with the row where it is not the record's own. */
function changesOf(bundle: BundlePreview): string[] {
  return bundle.files.flatMap(({ kind, rows }, i) =>
    rows.flatMap(({ fate, key, changes }) => {
      const row = i === 0 ? "" : `${kindOf(kind).title} ${key}, `;
      if (fate === "new") return [`${row}new`];
      return changes.map(({ label, from, to }) => `${row}${label}: ${from || "blank"} to ${to || "blank"}`);
    }),
  );
}
