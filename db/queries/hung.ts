/** Which serial hangs at which end: recorded by a crew's report or at the desk, ended when it is taken down. */

import { and, desc, eq, inArray, isNull } from "drizzle-orm";
import { type Phrase, phrase } from "@/lib/phrase";
import { ok, type Problem, problem, type Result, refused } from "@/lib/result";
import type { EndSide } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { hungUnit, type TakenDown } from "../schema";
import { loadCatalogue } from "./catalogue";
import { loadHop } from "./design";
import { lastMoveOf, wholeOrNothing } from "./ledger";
import { addLogEntry, type By, type LogAction } from "./log";
import { isSerial, serialAsKept } from "./serials";
import { variantItems } from "./spares";

export type HungUnit = Omit<typeof hungUnit.$inferSelect, "key">;

/** What hangs, or ever hung: of some hops, or one serial; the latest first. */
export function loadHung(
  db: Db,
  of: { hopCodes?: readonly string[]; serial?: string; onlyStanding?: boolean },
): HungUnit[] {
  return db
    .select()
    .from(hungUnit)
    .where(
      and(
        of.hopCodes ? inArray(hungUnit.hopCode, [...of.hopCodes]) : undefined,
        of.serial === undefined ? undefined : isSerial(hungUnit.serial, of.serial),
        of.onlyStanding ? isNull(hungUnit.endedOn) : undefined,
      ),
    )
    .orderBy(desc(hungUnit.hungOn), desc(hungUnit.id))
    .all()
    .map(({ key: _, ...row }) => row);
}

type Position = Pick<HungUnit, "hopCode" | "side" | "oduLabel">;

/** The item that the design wants at a position; undefined when there is no such position. */
export function variantOfPosition(db: Db, { hopCode, side, oduLabel }: Position): string | undefined {
  const radio = loadHop(db, hopCode)?.[side].odus.find((o) => o.label === oduLabel);
  return radio && variantItems(loadCatalogue(db))(radio);
}

export interface HangNote {
  /** Made once per form, or per line of a report. */
  key: string;
  serial: string;
  hopCode: string;
  side: EndSide;
  /** Label of the radio in the design of the end. */
  oduLabel: string;
  on: CalendarDate;
  today: CalendarDate;
  visitId?: string;
}

/**
 * Says that a radio hangs at a position. What hung there by the books is exchanged by it; saying again what is known
 * changes nothing. A serial that stands elsewhere by the books is refused: one of the two was read wrongly.
 */
export function hangUnit(db: Db, typed: HangNote, by: By): Result<{ id: number; isNew: boolean }> {
  const note = { ...typed, serial: serialAsKept(db, typed.serial) };
  const known = db.select({ id: hungUnit.id }).from(hungUnit).where(eq(hungUnit.key, note.key)).get();
  if (known) return ok({ id: known.id, isNew: false });
  return wholeOrNothing<{ id: number; isNew: boolean }>(db, () => {
    const itemCode = variantOfPosition(db, note);
    if (!itemCode)
      return refused(
        problem(
          "oduLabel",
          "position-unknown",
          note.oduLabel,
          phrase("{{hop}} has no radio {{odu}} at its {{end}} that the catalogue knows.", {
            hop: note.hopCode,
            odu: note.oduLabel,
            end: phrase(`${note.side} end`),
          }),
          phrase("Choose a position of the design."),
        ),
      );
    const hanging = loadHung(db, { serial: note.serial, onlyStanding: true })[0];
    const isHere =
      hanging?.hopCode === note.hopCode && hanging.side === note.side && hanging.oduLabel === note.oduLabel;
    if (hanging && isHere) return ok({ id: hanging.id, isNew: false });
    const before = loadHung(db, { hopCodes: [note.hopCode], onlyStanding: true }).find(
      (h) => h.side === note.side && h.oduLabel === note.oduLabel,
    );
    const problems = hangProblems(db, note, itemCode, hanging, before);
    if (problems.length > 0) return refused(...problems);
    if (before) end(db, before.id, note.on, "exchanged", by);
    const { id } = db
      .insert(hungUnit)
      .values({
        key: note.key,
        serial: note.serial,
        itemCode,
        hopCode: note.hopCode,
        side: note.side,
        oduLabel: note.oduLabel,
        hungOn: note.on,
        visitId: note.visitId ?? null,
        recordedBy: by.name,
        recordedAt: by.at,
      })
      .returning({ id: hungUnit.id })
      .get();
    const { serial, hopCode, side, oduLabel, on } = note;
    log(db, by, "radio hung", serial, { hopCode, side, oduLabel, on, inPlaceOf: before?.serial });
    return ok({ id, isNew: true });
  });
}

function hangProblems(
  db: Db,
  { serial, on, today }: HangNote,
  itemCode: string,
  hanging: HungUnit | undefined,
  before: HungUnit | undefined,
): Problem[] {
  const problems: Problem[] = [];
  const add = (path: string, rule: string, value: unknown, message: Phrase, remedy: Phrase) =>
    problems.push(problem(path, rule, value, message, remedy));
  if (on > today)
    add("on", "future", on, phrase("The day lies in the future."), phrase("Give today or an earlier day."));
  if (hanging)
    add(
      "serial",
      "hangs-elsewhere",
      serial,
      phrase("{{serial}} hangs at {{hop}} ({{odu}}), {{end}}, by the books.", {
        serial,
        hop: hanging.hopCode,
        odu: hanging.oduLabel,
        end: phrase(`${hanging.side} end`),
      }),
      phrase("Check the label; if it was moved, have it taken down there first."),
    );
  if (before && on < before.hungOn)
    add(
      "on",
      "before",
      on,
      phrase("{{serial}} hangs there since {{day}}.", { serial: before.serial, day: before.hungOn }),
      phrase("Give that day or a later one."),
    );
  const moved = lastMoveOf(db, serial);
  if (moved && moved.itemCode !== itemCode)
    add(
      "serial",
      "other-variant",
      serial,
      phrase("{{serial}} is {{item}} by the ledger; the design wants {{wanted}} there.", {
        serial,
        item: moved.itemCode,
        wanted: itemCode,
      }),
      phrase("Check the label: the wrong variant does not work on this hop."),
    );
  if (moved?.kind === "hold" || moved?.kind === "repair")
    add(
      "serial",
      "not-there",
      serial,
      moved.kind === "hold"
        ? phrase("{{serial}} is on hold by the ledger.", { serial })
        : phrase("{{serial}} is in repair by the ledger.", { serial }),
      phrase("Check the label; if it is back, record that under faulty pieces first."),
    );
  return problems;
}

/** Ends a record: the radio was taken down, or was never there. */
export function takeDownUnit(
  db: Db,
  {
    id,
    hopCode,
    on,
    why,
    today,
  }: { id: number; hopCode: string; on: CalendarDate; why: TakenDown; today: CalendarDate },
  by: By,
): Result<{ serial: string }> {
  return wholeOrNothing(db, () => {
    const row = db.select().from(hungUnit).where(eq(hungUnit.id, id)).get();
    if (!row || row.hopCode !== hopCode || row.endedOn !== null)
      return refused(
        problem(
          "id",
          "not-hanging",
          id,
          phrase("It does not hang there any more."),
          phrase("Reload the page."),
        ),
      );
    if (on > today || on < row.hungOn)
      return refused(
        problem(
          "on",
          "day",
          on,
          phrase("It hangs there since {{day}}.", { day: row.hungOn }),
          phrase("Give a day from then up to {{today}}.", { today }),
        ),
      );
    end(db, id, on, why, by);
    log(db, by, "radio taken down", row.serial, { hopCode: row.hopCode, oduLabel: row.oduLabel, on, why });
    return ok({ serial: row.serial });
  });
}

/** A radio that was found faulty hangs nowhere any more; nothing happens when it did not by the books. */
export function endOfFaulty(db: Db, serial: string, foundOn: CalendarDate, by: By): void {
  const hanging = loadHung(db, { serial, onlyStanding: true })[0];
  if (hanging) end(db, hanging.id, foundOn < hanging.hungOn ? hanging.hungOn : foundOn, "faulty", by);
}

function end(db: Db, id: number, on: CalendarDate, why: TakenDown, by: By): void {
  db.update(hungUnit)
    .set({ endedOn: on, endedWhy: why, endedBy: by.name, endedAt: by.at })
    .where(eq(hungUnit.id, id))
    .run();
}

function log(db: Db, by: By, action: LogAction, serial: string, detail: Record<string, unknown>): void {
  addLogEntry(db, { at: by.at, userName: by.name, action, subject: `serial ${serial}`, detail });
}
