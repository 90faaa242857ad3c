/** Handing a kit to its crew: from the warehouse to the vehicle, counted by a second person; what it lacks after it; and taking that back. */

import { eq } from "drizzle-orm";
import { type Phrase, phrase } from "@/lib/phrase";
import { ok, type Problem, problem, type Result, refused } from "@/lib/result";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { place } from "../schema";
import { amountPhrase } from "./amountPhrase";
import { setVehicle } from "./crews";
import { boxFollowsLedger } from "./kitLosses";
import { issuedOf, issueRowsOf, vehiclesOf } from "./kitOut";
import { coilMoved } from "./kitPicking";
import { kitProblem } from "./kitProblem";
import {
  emptySerials,
  keepSerials,
  ownersOfSerials,
  rowsBySerial,
  serialProblems,
  serialsIssued,
} from "./kitSerials";
import type { PickSource } from "./kitSources";
import { type KitLineView, type KitView, loadKitView, piecesInBox } from "./kitView";
import { ledgerRefusal, reverseMovement, tryMovement, wholeOrNothing } from "./ledger";
import { ledgerReason } from "./ledgerReasons";
import { addLogEntry, type By } from "./log";
import { loadKit, type PlanHead, setKitState, setPicked } from "./plans";
import { bookUseIssuedLate, unbookUseIssuedLate } from "./reportedUse";
import { serialAsKept } from "./serials";
import { leftOutOn } from "./vehicleOpened";

export interface IssueNote {
  visitId: string;
  vehiclePlace: string;
  /** Said when it goes into another vehicle than its crew's. */
  isOtherVehicle?: boolean;
  /** Things that a second person counted in the box (`countedAs`). */
  counted: number;
  countedBy: string;
  /** Why the kit leaves with less than it needs. */
  shortReason?: string;
  today: CalendarDate;
}

/** Moves everything picked from the warehouse to the crew's vehicle: all of it or nothing. */
export function issueKit(
  db: Db,
  plan: Pick<PlanHead, "id">,
  note: IssueNote,
  by: By,
): Result<{ rows: number }> {
  return wholeOrNothing(db, () => {
    const kit = loadKitView(db, plan, note.visitId, note.today);
    const wrong = kitProblem(kit && loadKit(db, plan.id, note.visitId), note.visitId, "open");
    if (wrong || !kit) return refused(...(wrong ? [wrong] : []));
    const problems = issueProblems(db, plan, kit, note);
    if (problems.length > 0) return refused(...problems);
    const reason = note.shortReason
      ? ledgerReason("issuedShort", { why: note.shortReason })
      : ledgerReason("issued");
    const posted = postIssue(
      db,
      kit,
      kit.lines.filter((l) => l.pickedC > 0),
      { ...note, reason },
      by,
    );
    if (!posted.ok) return posted;
    const rows = posted.value;
    setKitState(db, plan.id, note.visitId, "issued");
    emptySerials(db, note.visitId);
    if (kit.crewCode && !kit.vehiclePlace) setVehicle(db, kit.crewCode, note.vehiclePlace);
    const used = reportedBefore(db, note, by);
    if (!used.ok) return used;
    addLogEntry(db, {
      at: by.at,
      userName: by.name,
      action: "kit issued",
      subject: `kit ${note.visitId}`,
      detail: { to: note.vehiclePlace, rows, countedBy: note.countedBy, shortReason: note.shortReason },
    });
    return ok({ rows });
  });
}

export interface MissingNote
  extends Pick<IssueNote, "visitId" | "vehiclePlace" | "counted" | "countedBy" | "today"> {
  /** How much of each line goes after the kit, no more than it lacks; and which pieces, where somebody read them. */
  lines: readonly { lineNo: number; quantityC: number; serials?: readonly string[] }[];
}

/**
 * Sends after an issued kit what it lacks: what was put on hold as faulty, what it left without, and its cut runs, which
 * the ledger let go when they were cut.
 */
export function issueMissing(
  db: Db,
  plan: Pick<PlanHead, "id">,
  note: MissingNote,
  by: By,
): Result<{ rows: number; runs: number }> {
  return wholeOrNothing(db, () => {
    const kit = loadKitView(db, plan, note.visitId, note.today);
    const wrong = kitProblem(kit && loadKit(db, plan.id, note.visitId), note.visitId, "issued");
    if (wrong || !kit) return refused(...(wrong ? [wrong] : []));
    const wanted = note.lines.filter((l) => l.quantityC > 0);
    const lines = kit.lines.flatMap((l) => {
      const going = wanted.find((w) => w.lineNo === l.lineNo);
      if (!going) return [];
      const { quantityC } = going;
      const serials = (going.serials ?? []).map((typed) => serialAsKept(db, typed));
      return [{ ...l, sources: firstOf(l.refill, quantityC), quantityC, serials }];
    });
    const problems = missingProblems(db, { kit, lines, note }, by);
    if (problems.length > 0) return refused(...problems);
    const runs = lines.filter((l) => l.runId !== null);
    const items = lines.filter((l) => l.runId === null);
    const posted = postIssue(db, kit, items, { ...note, reason: ledgerReason("issued") }, by);
    if (!posted.ok) return posted;
    for (const itemCode of new Set(items.map((l) => l.itemCode)))
      boxFollowsLedger(db, note.visitId, itemCode);
    for (const { lineNo, cut } of runs) {
      setPicked(db, plan.id, note.visitId, lineNo, cut!.quantityC, by.name);
      coilMoved(db, { cut: cut!, kit, cameOver: true }, by);
    }
    const used = reportedBefore(db, note, by);
    if (!used.ok) return used;
    addLogEntry(db, {
      at: by.at,
      userName: by.name,
      action: "missing part of a kit issued",
      subject: `kit ${note.visitId}`,
      detail: {
        to: note.vehiclePlace,
        rows: posted.value,
        runs: runs.map((l) => l.runId).join(", ") || undefined,
        countedBy: note.countedBy,
      },
    });
    return ok({ rows: posted.value, runs: runs.length });
  });
}

/** What the crew reported before the books knew of the issue is off its vehicle with it. */
const reportedBefore = (db: Db, { visitId, vehiclePlace, today }: IssueNote | MissingNote, by: By) =>
  bookUseIssuedLate(db, { visitId, vehicle: vehiclePlace }, { ...by, today });

function firstOf(sources: readonly PickSource[], wantedC: number): PickSource[] {
  let leftC = wantedC;
  return sources.flatMap((s) => {
    const quantityC = Math.min(leftC, s.quantityC);
    leftC -= quantityC;
    return quantityC > 0 ? [{ ...s, quantityC }] : [];
  });
}

function missingProblems(
  db: Db,
  of: { kit: KitView; lines: readonly (KitLineView & { quantityC: number })[]; note: MissingNote },
  by: By,
): Problem[] {
  const { kit, lines, note } = of;
  const problems = counterProblems([by.name], note.countedBy);
  if (!vehiclesOf(db, note.visitId).includes(note.vehiclePlace))
    problems.push(
      problem(
        "vehicle",
        "vehicle-of-another",
        note.vehiclePlace,
        phrase("The kit is not on that vehicle."),
        phrase("Choose the vehicle that it was issued into."),
      ),
    );
  if (lines.length === 0)
    problems.push(
      problem(
        "lines",
        "nothing-picked",
        0,
        phrase("Nothing goes after the kit."),
        phrase("Give a quantity on one line."),
      ),
    );
  for (const l of lines) {
    const gotC = l.sources.reduce((sum, s) => sum + s.quantityC, 0);
    if (l.runId !== null && l.lacksC > 0) {
      if (!l.cut)
        problems.push(runNotCut(l, l.quantityC, phrase("Confirm its cut on the drum first: Stock, Drums.")));
    } else if (l.quantityC > l.lacksC || (l.unit !== "m" && l.quantityC % 100 !== 0))
      problems.push(
        problem(
          `line ${l.lineNo} (${l.itemCode})`,
          "missing-more",
          l.quantityC / 100,
          phrase("The kit lacks {{missing}} of it.", {
            missing: amountPhrase(l.lacksC, l.unit),
          }),
          phrase("Give whole units up to that. Reload the page; somebody may have issued it already."),
        ),
      );
    else if (gotC < l.quantityC)
      problems.push(
        problem(
          `line ${l.lineNo} (${l.itemCode})`,
          "not-on-hand",
          l.quantityC / 100,
          phrase("{{place}} holds {{missing}} less by the ledger.", {
            place: kit.placeCode,
            missing: amountPhrase(l.quantityC - gotC, l.unit),
          }),
          phrase(
            "Correct the picked quantity, record the transfer or receipt that brought it, or count the place.",
          ),
        ),
      );
  }
  for (const l of lines)
    problems.push(
      ...serialProblems(db, {
        ...{ visitId: note.visitId, itemCode: l.itemCode, serials: l.serials },
        units: Math.floor(l.quantityC / 100),
        path: `line ${l.lineNo} (${l.itemCode})`,
      }),
    );
  if (note.counted !== piecesInBox(lines.map((l) => ({ ...l, pickedC: l.quantityC }))))
    problems.push(countDiffers(note.counted));
  return problems;
}

const runNotCut = (l: Pick<KitLineView, "lineNo" | "name">, quantityC: number, remedy: Phrase): Problem =>
  problem(
    `line ${l.lineNo} (${l.name})`,
    "run-not-cut",
    quantityC / 100,
    phrase("The run is not cut."),
    remedy,
  );

/** Posts the rows of lines that leave the kit's warehouse, lot by lot, a piece whose serial was read in a row of its own; returns how many. */
function postIssue(
  db: Db,
  kit: KitView,
  lines: readonly Pick<KitLineView, "lineNo" | "itemCode" | "sources" | "serials">[],
  note: Pick<IssueNote, "visitId" | "vehiclePlace" | "today"> & { reason: string },
  by: By,
): Result<number> {
  const problems: Problem[] = [];
  const round = issueRowsOf(db, note.visitId).length;
  let rows = 0;
  for (const l of lines) {
    const unnamed = [...l.serials];
    const ownerOf = ownersOfSerials(db, unnamed);
    const parts = l.sources.flatMap((s, part) =>
      rowsBySerial(s.quantityC, unnamed, (serial) => (ownerOf.get(serial) ?? s.owner) === s.owner).map(
        (row) => ({
          ...s,
          ...row,
          key: [`issue ${note.visitId} ${round} ${l.lineNo} ${part}`, row.serial].filter(Boolean).join(" "),
        }),
      ),
    );
    const [left] = unnamed;
    if (left !== undefined)
      problems.push(
        problem(
          `line ${l.lineNo} (${l.itemCode})`,
          "serial-not-taken",
          left,
          phrase("{{serial}} is of another owner than what is taken from the shelf.", { serial: left }),
          phrase("Check the label."),
        ),
      );
    for (const s of parts) {
      const refusal = tryMovement(
        db,
        {
          key: s.key,
          kind: "issue",
          itemCode: l.itemCode,
          lotCode: s.lotCode || undefined,
          serial: s.serial,
          owner: s.owner,
          fromPlace: kit.placeCode,
          toPlace: note.vehiclePlace,
          quantityC: s.quantityC,
          effectiveOn: note.today,
          postedAt: by.at,
          visitId: note.visitId,
          reason: note.reason,
          postedBy: by.name,
        },
        `line ${l.lineNo}`,
      );
      if (refusal) problems.push(refusal);
      rows++;
    }
  }
  return problems.length > 0 ? refused(...problems) : ok(rows);
}

/** Whoever picked does not count: a slip is seen by other eyes only (common practice). */
function counterProblems(pickedBy: readonly (string | null)[], countedBy: string): Problem[] {
  const plain = (name: string) => name.trim().replace(/\s+/g, " ").toLowerCase();
  const picker = pickedBy.find((name) => name !== null && plain(name) === plain(countedBy));
  if (!picker) return [];
  return [
    problem(
      "countedBy",
      "counted-by-picker",
      countedBy,
      phrase("{{name}} picked it: a second person counts.", { name: picker }),
      phrase("Let somebody else count, and give that name."),
    ),
  ];
}

// The number wanted is not said: who knows it types it instead of counting.
const countDiffers = (counted: number): Problem =>
  problem(
    "counted",
    "count-differs",
    counted,
    phrase("That is not what the lines ticked off come to."),
    phrase(
      'Count the box again line by line: the pick list says how many things each line counts as, a bag or a length being one. Correct the line that differs, or the number in "Things counted in the box".',
    ),
  );

function issueProblems(db: Db, plan: Pick<PlanHead, "id">, kit: KitView, note: IssueNote): Problem[] {
  const problems: Problem[] = [];
  const vehicle = db.select().from(place).where(eq(place.code, note.vehiclePlace)).get();
  if (vehicle?.kind !== "vehicle")
    problems.push(
      problem(
        "vehicle",
        "vehicle",
        note.vehiclePlace,
        phrase("That is no vehicle."),
        phrase("Choose the vehicle that the kit is loaded into."),
      ),
    );
  else if (kit.vehiclePlace && kit.vehiclePlace !== note.vehiclePlace && !note.isOtherVehicle)
    problems.push(
      problem(
        "vehicle",
        "vehicle-of-another",
        note.vehiclePlace,
        phrase("Crew {{crew}} drives {{own}}, not {{vehicle}}.", {
          crew: kit.crewCode ?? "",
          own: kit.vehiclePlace,
          vehicle: note.vehiclePlace,
        }),
        phrase("Choose {{own}}, or confirm that the kit goes into another vehicle.", {
          own: kit.vehiclePlace,
        }),
      ),
    );
  const picked = kit.lines.filter((l) => l.pickedC > 0);
  if (!picked.some((l) => l.runId === null))
    problems.push(
      problem(
        "lines",
        "nothing-picked",
        0,
        phrase("No item of the kit is picked."),
        phrase("Tick the lines off first."),
      ),
    );
  for (const l of picked) {
    if (l.runId && !l.cut)
      problems.push(runNotCut(l, l.pickedC, phrase("Confirm its cut on the drum, or untick it.")));
    problems.push(
      ...serialProblems(db, {
        ...{ visitId: note.visitId, itemCode: l.itemCode, serials: l.serials },
        units: Math.floor(l.pickedC / 100),
        path: `line ${l.lineNo} (${l.itemCode})`,
      }),
    );
    if (l.missingC > 0)
      problems.push(
        problem(
          `line ${l.lineNo} (${l.itemCode})`,
          "not-on-hand",
          l.pickedC / 100,
          phrase("{{place}} holds {{missing}} less by the ledger.", {
            place: kit.placeCode,
            missing: amountPhrase(l.missingC, l.unit),
          }),
          phrase(
            "Correct the picked quantity, record the transfer or receipt that brought it, or count the place.",
          ),
        ),
      );
  }
  const pieces = piecesInBox(kit.lines);
  if (note.counted !== pieces) problems.push(countDiffers(note.counted));
  problems.push(
    ...counterProblems(
      picked.map((l) => l.pickedBy),
      note.countedBy,
    ),
  );
  const short = kit.lines.filter((l) => !l.isWhole);
  if (short.length > 0 && !note.shortReason?.trim())
    problems.push(
      problem(
        "short",
        "issued-short",
        short.map((l) => l.itemCode).join(", "),
        short.length === 1
          ? phrase("1 line is short of the need.")
          : phrase("{{number}} lines are short of the need.", { number: String(short.length) }),
        phrase("Pick the rest, or say why the kit leaves without it."),
      ),
    );
  const on = { planId: plan.id, kit, vehicle: note.vehiclePlace, isDone: kit.isNeverIssued };
  const gone = leftOutOn(db, on, note.today);
  if (gone.length > 0 && !note.shortReason?.trim())
    problems.push(
      problem(
        "short",
        "not-opened",
        gone.join(", "),
        phrase("{{vehicle}} has no {{items}} opened by the books, and none goes along.", {
          vehicle: note.vehiclePlace,
          items: gone.join(", "),
        }),
        phrase("Pick one of each, or say why the kit leaves without it."),
      ),
    );
  return problems;
}

/** Takes a whole issue back, row by row, while nothing has been returned: the kit stands picked again. */
export function takeBackIssue(
  db: Db,
  plan: Pick<PlanHead, "id">,
  visitId: string,
  reason: string,
  today: CalendarDate,
  by: By,
): Result<{ rows: number }> {
  return wholeOrNothing(db, () => {
    const wrong = kitProblem(loadKit(db, plan.id, visitId), visitId, "issued");
    if (wrong) return refused(wrong);
    if (issuedOf(db, visitId).some((r) => r.returnedC > 0))
      return refused(
        problem(
          "state",
          "returned-already",
          visitId,
          phrase("Some of it was returned already."),
          phrase("Return the rest as unused instead."),
        ),
      );
    const unbooked = unbookUseIssuedLate(db, visitId, { ...by, today });
    if (!unbooked.ok) return unbooked;
    // They lie in the box again.
    keepSerials(db, visitId, serialsIssued(db, visitId), by);
    const open = db.$client
      .prepare(
        `SELECT id FROM movement m WHERE kind = 'issue' AND visit_id = ?
         AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id) ORDER BY id`,
      )
      .pluck()
      .all(visitId) as number[];
    for (const id of open) {
      try {
        reverseMovement(db, id, {
          key: `take back ${id}`,
          effectiveOn: today,
          postedAt: by.at,
          reason,
          postedBy: by.name,
        });
      } catch (error) {
        if (ledgerRefusal(error) === undefined) throw error;
        return refused(
          problem(
            `row ${id}`,
            "ledger",
            id,
            phrase("The vehicle does not hold all of it any more."),
            phrase("Return what is left as unused instead."),
          ),
        );
      }
    }
    setKitState(db, plan.id, visitId, "picked");
    addLogEntry(db, {
      at: by.at,
      userName: by.name,
      action: "issue taken back",
      subject: `kit ${visitId}`,
      detail: { rows: open.length, reason },
    });
    return ok({ rows: open.length });
  });
}
