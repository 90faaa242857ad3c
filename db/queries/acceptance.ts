/** Acceptance readings of hops, and the revisits that failed ones ask for. */

import { asc, eq, inArray, isNull } from "drizzle-orm";
import {
  type Acceptance,
  type AcceptanceLimits,
  DEFAULT_ACCEPTANCE_LIMITS,
  isLevelAboveZero,
  isStillWanted,
  judgeAcceptance,
  lackingWords,
  levelAboveZero,
  type Reading,
  remediesFor,
} from "@/lib/acceptance";
import type { EndEstimate } from "@/lib/hours";
import { phrase } from "@/lib/phrase";
import { type HopAcceptance, parseVisitId, type Revisit, visitIdOf } from "@/lib/programme";
import { ok, type Problem, type Result, refused, sentences } from "@/lib/result";
import type { EndSide, Hop } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { acceptanceReading, revisit, visitReport } from "../schema";
import { currentPolicy } from "./catalogue";
import { groupBy, loadHop, loadHops } from "./design";
import { addLogEntry } from "./log";
import { doneVisits } from "./reports";

export type StoredReading = typeof acceptanceReading.$inferSelect;
export type StoredRevisit = typeof revisit.$inferSelect;

export const acceptanceLimits = (db: Db): AcceptanceLimits =>
  currentPolicy<AcceptanceLimits>(db, "acceptance limits")?.body ?? DEFAULT_ACCEPTANCE_LIMITS;

/** Readings in the order in which they were taken: of two of one thing the later one counts. */
export function loadReadings(db: Db, hopCodes?: readonly string[]): StoredReading[] {
  return db
    .select()
    .from(acceptanceReading)
    .where(hopCodes && inArray(acceptanceReading.hopCode, [...hopCodes]))
    .orderBy(asc(acceptanceReading.takenOn), asc(acceptanceReading.id))
    .all();
}

/** Those in whose place no other was entered. */
function standing(readings: readonly StoredReading[]): StoredReading[] {
  const corrected = new Set(readings.map((r) => r.correctsId));
  return readings.filter((r) => !corrected.has(r.id));
}

const readingOf = (r: StoredReading): Reading => ({
  askedId: r.askedId,
  value: r.value ?? undefined,
  passed: r.passed ?? undefined,
  targetLevelDbm: r.targetLevelDbm ?? undefined,
  takenOn: r.takenOn,
});

/** Where a hop stands, by all that was read so far. */
export function acceptanceOf(db: Db, hop: Hop): Acceptance {
  return judgeAcceptance(hop, standing(loadReadings(db, [hop.code])).map(readingOf), acceptanceLimits(db));
}

/** Did a reading that this report brought fail, by what is known now? */
export function hasFailedReading(db: Db, report: { id: number; hopCode: string }): boolean {
  const brought = new Set(
    standing(loadReadings(db, [report.hopCode]))
      .filter((r) => r.reportId === report.id)
      .map((r) => r.askedId),
  );
  const hop = brought.size > 0 ? loadHop(db, report.hopCode) : undefined;
  if (!hop) return false;
  return acceptanceOf(db, hop).readings.some((r) => r.state === "failed" && brought.has(r.asked.id));
}

/** Revisits that nobody withdrew, done or not. */
export function loadRevisits(db: Db): Revisit[] {
  return db
    .select()
    .from(revisit)
    .where(isNull(revisit.withdrawnAt))
    .orderBy(revisit.hopCode, revisit.side, revisit.no)
    .all()
    .map(({ hopCode, side, no, remedy, isJoint, cause }) => ({ hopCode, side, no, remedy, isJoint, cause }));
}

/** All revisits of a hop, withdrawn ones too. */
export function revisitsOfHop(db: Db, hopCode: string): StoredRevisit[] {
  return db
    .select()
    .from(revisit)
    .where(eq(revisit.hopCode, hopCode))
    .orderBy(revisit.no, revisit.side)
    .all();
}

/** Acceptance of every hop that has a reading or a revisit. */
export function hopAcceptances(db: Db, only?: readonly string[]): Map<string, HopAcceptance> {
  const readings = groupBy(loadReadings(db, only), (r) => r.hopCode);
  const revisits = groupBy(loadRevisits(db), (r) => r.hopCode);
  const asked = new Set(only ?? [...readings.keys(), ...revisits.keys()]);
  const codes = [...asked].filter((code) => readings.has(code) || revisits.has(code));
  if (codes.length === 0) return new Map();
  const limits = acceptanceLimits(db);
  const done = doneVisits(db);
  return new Map(
    loadHops(db, codes).map((hop) => {
      const judged = judgeAcceptance(hop, standing(readings.get(hop.code) ?? []).map(readingOf), limits);
      const openRevisits = (revisits.get(hop.code) ?? [])
        .map((r) => visitIdOf(r.hopCode, r.side, "revisit", r.no))
        .filter((id) => !done.has(id));
      return [
        hop.code,
        {
          state: judged.state,
          acceptedOn: judged.acceptedOn,
          lacking: lackingWords(judged),
          openRevisits,
        },
      ];
    }),
  );
}

export interface NewReading {
  askedId: string;
  value?: number;
  passed?: boolean;
  targetLevelDbm?: number;
}

export interface ReadingsTaken {
  hopCode: string;
  readings: readonly NewReading[];
  takenOn: CalendarDate;
  note: string;
  reportId?: number;
  /** The report in whose place this one stands: what only its readings asked for is withdrawn. */
  correctsId?: number;
  /** At the desk: each stands in place of the last reading of the same thing, which was entered wrongly. */
  isCorrection?: boolean;
}

/** Visit ids of the revisits that came of it. */
export interface ReadingsStored {
  acceptance: Acceptance;
  opened: string[];
  /** And of those that a corrected reading had asked for and nothing does any more. */
  withdrawn: string[];
}

/**
 * Stores readings and opens the revisits that failed ones ask for, once each: as long as one with the same remedy at
 * the same end is open, another failing reading adds none. Refused as a whole when one is none of the hop's.
 */
export function storeReadings(
  db: Db,
  taken: ReadingsTaken,
  by: { name: string; at: number; today: CalendarDate },
): Result<ReadingsStored, Problem> {
  const hop = loadHop(db, taken.hopCode);
  if (!hop) {
    return refused({
      path: "hopCode",
      rule: "hop-unknown",
      value: taken.hopCode,
      ...sentences(
        phrase("There is no hop {{hopCode}} with both its ends.", { hopCode: String(taken.hopCode) }),
        phrase("Check the code, or bring in the missing end."),
      ),
    });
  }
  const problems = readingProblems(db, hop, taken, by.today);
  if (problems.length > 0) return refused(...problems);
  // Of several of one thing the last.
  const wrong = new Map(
    taken.isCorrection ? standing(loadReadings(db, [hop.code])).map((r) => [r.askedId, r.id]) : [],
  );
  for (const r of taken.readings) {
    db.insert(acceptanceReading)
      .values({
        hopCode: hop.code,
        askedId: r.askedId,
        value: r.value ?? null,
        passed: r.passed ?? null,
        targetLevelDbm: r.targetLevelDbm ?? null,
        takenOn: taken.takenOn,
        note: taken.note,
        reportId: taken.reportId ?? null,
        correctsId: wrong.get(r.askedId) ?? null,
        recordedBy: by.name,
        recordedAt: by.at,
      })
      .run();
  }
  const acceptance = acceptanceOf(db, hop);
  const opened = openRevisits(db, hop, acceptance, new Set(taken.readings.map((r) => r.askedId)), by);
  addLogEntry(db, {
    at: by.at,
    userName: by.name,
    action: "record readings",
    subject: `hop ${hop.code}`,
    detail: {
      readings: taken.readings,
      takenOn: taken.takenOn,
      isCorrection: taken.isCorrection || undefined,
      state: acceptance.state,
      opened,
    },
  });
  const isOfWrong =
    taken.correctsId !== undefined
      ? ofReports(db, taken.correctsId)
      : taken.isCorrection
        ? ofReadings(db, hop, new Set(taken.readings.map((r) => r.askedId)))
        : undefined;
  const withdrawn = isOfWrong ? withdrawCorrected(db, hop.code, acceptance, isOfWrong, by) : [];
  return ok({ acceptance, opened, withdrawn });
}

/** Opens once more what a failed reading asks for, when nothing that it asked for is open (any more). */
export function openAnotherRevisit(
  db: Db,
  { hopCode, askedId }: { hopCode: string; askedId: string },
  by: { name: string; at: number },
): Result<{ opened: string[] }, Problem> {
  const hop = loadHop(db, hopCode);
  const acceptance = hop && acceptanceOf(db, hop);
  const reading = acceptance?.readings.find((r) => r.asked.id === askedId);
  if (!hop || !acceptance || reading?.state !== "failed") {
    return refused({
      path: "askedId",
      rule: "reading-not-failed",
      value: askedId,
      ...sentences(
        phrase("This reading does not fail (any more): no revisit is needed for it."),
        phrase("Load the page again to see how it stands."),
      ),
    });
  }
  const opened = openRevisits(db, hop, acceptance, new Set([askedId]), by);
  if (opened.length === 0) {
    return refused({
      path: "askedId",
      rule: "revisit-open",
      value: askedId,
      ...sentences(
        phrase("A revisit for this reading is open already."),
        phrase("Load the page again to see how it stands."),
      ),
    });
  }
  addLogEntry(db, {
    at: by.at,
    userName: by.name,
    action: "open revisit",
    subject: `hop ${hop.code}`,
    detail: { readings: [{ askedId }], opened },
  });
  return ok({ opened });
}

function readingProblems(db: Db, hop: Hop, taken: ReadingsTaken, today: CalendarDate): Problem[] {
  const asked = new Map(acceptanceOf(db, hop).readings.map((r) => [r.asked.id, r.asked]));
  const problems: Problem[] = [];
  if (taken.takenOn > today) {
    problems.push({
      path: "takenOn",
      rule: "future-reading",
      value: taken.takenOn,
      ...sentences(
        phrase("The day of the reading lies in the future."),
        phrase("Give a day up to {{today}}.", { today: String(today) }),
      ),
    });
  }
  for (const r of taken.readings) {
    const want = asked.get(r.askedId);
    if (!want) {
      problems.push({
        path: `readings.${r.askedId}`,
        rule: "reading-not-asked",
        value: r.askedId,
        ...sentences(
          phrase("Hop {{code}} asks for no such reading.", { code: String(hop.code) }),
          phrase("Load the page again: the design may have changed."),
        ),
      });
    } else if (
      (want.form === "passed") !== (r.passed !== undefined) ||
      (r.passed === undefined) === (r.value === undefined)
    ) {
      problems.push({
        path: `readings.${r.askedId}`,
        rule: "reading-form",
        value: r.value ?? "",
        ...sentences(
          want.form === "passed" ? phrase("It is passed or not passed.") : phrase("It is a figure."),
          phrase("Give one or the other as the form asks for it."),
        ),
      });
    } else if (isLevelAboveZero(want.kind, r.value)) {
      problems.push({
        path: `readings.${r.askedId}`,
        rule: "level-above-zero",
        value: r.value,
        ...levelAboveZero(),
      });
    }
  }
  return problems;
}

function openRevisits(
  db: Db,
  hop: Hop,
  acceptance: Acceptance,
  now: ReadonlySet<string>,
  by: { name: string; at: number },
): string[] {
  const done = doneVisits(db);
  const known = revisitsOfHop(db, hop.code);
  const isOpen = (side: EndSide, remedy: string) =>
    known.some(
      (r) => r.side === side && r.remedy === remedy && r.withdrawnAt === null && !done.has(r.visitId),
    );
  const failedNow = acceptance.readings.filter((r) => now.has(r.asked.id));
  return remediesFor(failedNow, hop.alignment === "both ends at once").flatMap(({ remedy, sides, cause }) => {
    if (sides.some((side) => isOpen(side, remedy))) return [];
    // Both ends of joint work share their number.
    const no = Math.max(0, ...known.filter((r) => sides.includes(r.side)).map((r) => r.no)) + 1;
    return sides.map((side) => {
      const row = {
        visitId: visitIdOf(hop.code, side, "revisit", no),
        hopCode: hop.code,
        side,
        no,
        remedy,
        isJoint: sides.length > 1,
        cause,
        estimate: null,
        openedBy: by.name,
        openedAt: by.at,
        withdrawnBy: null,
        withdrawnAt: null,
        withdrawnWhy: null,
      };
      db.insert(revisit).values(row).run();
      known.push(row);
      return row.visitId;
    });
  });
}

/** Why a revisit was withdrawn without anybody's words. */
export const CORRECTED_WHY = "The reading was sent again and passes.";

/**
 * Withdraws what was asked for by a wrong reading, once what stands in its place passes. What has begun stays for a person to
 * decide: one that was reported in any way, or whose kit is being picked.
 */
function withdrawCorrected(
  db: Db,
  hopCode: string,
  { readings }: Acceptance,
  isOfWrong: (r: StoredRevisit) => boolean,
  by: { name: string; at: number },
): string[] {
  const hasBegun = db.$client.prepare(
    `SELECT 1 FROM visit_report WHERE visit_id = :id
     UNION SELECT 1 FROM kit k JOIN plan p ON p.id = k.plan_id
     WHERE k.visit_id = :id AND k.state <> 'planned' AND p.state = 'in force'`,
  );
  const open = revisitsOfHop(db, hopCode).filter((r) => r.withdrawnAt === null);
  const withdrawn: string[] = [];
  for (const r of open) {
    const pair = r.isJoint ? open.filter((o) => o.no === r.no && o.isJoint) : [r];
    const isGone =
      isOfWrong(r) &&
      !isStillWanted(r, readings) &&
      !pair.some((o) => hasBegun.get({ id: o.visitId })) &&
      !withdrawn.includes(r.visitId);
    if (isGone && withdrawRevisit(db, { visitId: r.visitId, why: CORRECTED_WHY }, by).ok)
      withdrawn.push(...pair.map((o) => o.visitId));
  }
  return withdrawn;
}

/** Was a revisit opened by the report that is corrected, or by those that it had corrected itself? */
function ofReports(db: Db, id: number): (r: StoredRevisit) => boolean {
  const times = new Set<number>();
  for (let next: number | null = id; next !== null; ) {
    const report: { at: number; correctsId: number | null } | undefined = db
      .select({ at: visitReport.reportedAt, correctsId: visitReport.correctsId })
      .from(visitReport)
      .where(eq(visitReport.id, next))
      .get();
    if (report) times.add(report.at);
    next = report?.correctsId ?? null;
  }
  return (r) => times.has(r.openedAt);
}

/** Was a revisit opened by a wrong reading of these, and by none beside it that was right? */
function ofReadings(db: Db, hop: Hop, askedIds: ReadonlySet<string>): (r: StoredRevisit) => boolean {
  const all = loadReadings(db, [hop.code]);
  const right = standing(all);
  const wrong = all.filter((r) => askedIds.has(r.askedId) && !right.includes(r));
  const limits = acceptanceLimits(db);
  return (r) =>
    wrong.some((w) => w.recordedAt === r.openedAt) &&
    !isStillWanted(
      r,
      judgeAcceptance(hop, right.filter((o) => o.recordedAt === r.openedAt).map(readingOf), limits).readings,
    );
}

export function saveRevisitEstimate(db: Db, visitId: string, estimate: EndEstimate): void {
  db.update(revisit).set({ estimate }).where(eq(revisit.visitId, visitId)).run();
}

/** Takes a revisit back, of joint work at each end that is not done; refused when it is done or withdrawn already. */
export function withdrawRevisit(
  db: Db,
  { visitId, why }: { visitId: string; why: string },
  by: { name: string; at: number },
): Result<null, Problem> {
  const named = parseVisitId(visitId);
  const rows = named ? revisitsOfHop(db, named.hopCode).filter((r) => r.no === named.part) : [];
  const own = rows.find((r) => r.side === named?.side);
  const done = doneVisits(db);
  const isDone = done.has(visitId);
  if (named?.kind !== "revisit" || !own || own.withdrawnAt !== null || isDone) {
    return refused({
      path: "visitId",
      rule: "revisit-not-open",
      value: visitId,
      ...sentences(
        isDone ? phrase("This revisit was reported done.") : phrase("This revisit is not open (any more)."),
        phrase("Load the page again to see how it stands."),
      ),
    });
  }
  const isOpen = (r: StoredRevisit) => r.withdrawnAt === null && !done.has(r.visitId);
  for (const row of own.isJoint ? rows.filter(isOpen) : [own]) {
    db.update(revisit)
      .set({ withdrawnBy: by.name, withdrawnAt: by.at, withdrawnWhy: why })
      .where(eq(revisit.visitId, row.visitId))
      .run();
  }
  addLogEntry(db, {
    at: by.at,
    userName: by.name,
    action: "withdraw revisit",
    subject: `hop ${own.hopCode}`,
    detail: { visitId, remedy: own.remedy, why },
  });
  return ok(null);
}
