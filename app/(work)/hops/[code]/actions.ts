"use server";

import { z } from "zod";
import { defineAction } from "@/app/_server/action";
import { homeToday } from "@/app/_server/clock";
import { andNet, netAgain } from "@/app/_server/netAgain";
import { reachOfVisit } from "@/app/_server/regions";
import {
  openAnotherRevisit,
  storeReadings,
  withdrawRevisit as takeBackRevisit,
} from "@/db/queries/acceptance";
import { addGate as insertGate, loadHop, saveGate } from "@/db/queries/design";
import { addLogEntry } from "@/db/queries/log";
import { phrase } from "@/lib/phrase";
import { parseVisitId } from "@/lib/programme";
import { ok, type Problem, refused, sentences } from "@/lib/result";
import { GATE_KINDS, type Gate, type GateKind } from "@/lib/site";
import { type CalendarDate, parseCalendarDate } from "@/lib/time";
import { newReadings } from "../newReadings";

const gateState = z.enum(["open", "dated", "met"]);

const needsDate = (dueOn: string): Problem => ({
  path: "dueOn",
  rule: "gate-needs-date",
  value: dueOn,
  ...sentences(
    phrase("An expected gate needs the date on which it is expected."),
    phrase("Enter the date, or set the gate to open."),
  ),
});

/** Sets a gate's state and date. The plan in force stays as it is until a planner makes the next one. */
export const changeGate = defineAction({
  name: "change-gate",
  roles: ["manager", "administrator"],
  reach: ({ hopCode }) => [hopCode],
  input: z.object({
    hopCode: z.string().min(1),
    side: z.enum(["near", "far", "both"]),
    kind: z.enum(GATE_KINDS as [GateKind, ...GateKind[]]),
    state: gateState,
    dueOn: z.string(),
    /** What the sender saw: a gate that somebody changed meanwhile is not overwritten. */
    seen: z.object({ state: gateState, dueOn: z.string() }),
  }),
  run: (input, { db, visitor, now }) => {
    const side = input.side === "both" ? undefined : input.side;
    const gate = loadHop(db, input.hopCode)?.gates.find((g) => g.kind === input.kind && g.side === side);
    if (!gate) {
      return refused({
        path: "kind",
        rule: "gate-unknown",
        value: input.kind,
        ...sentences(
          phrase("Hop {{hopCode}} has no such gate.", { hopCode: String(input.hopCode) }),
          phrase("Reload the page; the design data may have been brought in again."),
        ),
      });
    }
    if (gate.state !== input.seen.state || (gate.dueOn ?? "") !== input.seen.dueOn) {
      return refused({
        path: "state",
        rule: "gate-changed-meanwhile",
        value: gate.state,
        ...sentences(
          phrase("Somebody changed this gate since you opened the page, so nothing was saved."),
          phrase("Reload the page, look at the new state and change it again if need be."),
        ),
      });
    }
    const dueOn = parseCalendarDate(input.dueOn);
    if (input.state === "dated" && !dueOn) {
      return refused(needsDate(input.dueOn));
    }
    const changed: Gate = { ...gate, state: input.state, dueOn: input.state === "open" ? undefined : dueOn };
    const after = { kind: gate.kind, state: changed.state, dueOn: changed.dueOn ?? null };
    // Saved as it was: nothing for the log, and no plan is out of date by it.
    if (changed.state === gate.state && changed.dueOn === gate.dueOn) return ok(after);
    saveGate(db, changed);
    addLogEntry(db, {
      at: now,
      userName: visitor.name,
      action: "change gate",
      subject: `hop ${input.hopCode}`,
      detail: {
        kind: gate.kind,
        side: input.side,
        from: { state: gate.state, dueOn: gate.dueOn ?? null },
        to: { state: changed.state, dueOn: changed.dueOn ?? null },
      },
    });
    return ok(after);
  },
  revalidate: ({ hopCode }) => [`/hops/${encodeURIComponent(hopCode)}`, "/sites", "/programme"],
});

/** A gate that the design data do not have. The plan in force stays as it is, and its hop's visits keep their places. */
export const addGate = defineAction({
  name: "add-gate",
  roles: ["manager", "administrator"],
  reach: ({ hopCode }) => [hopCode],
  input: z.object({
    hopCode: z.string().min(1).max(60),
    side: z.enum(["near", "far", "both"]),
    kind: z.enum(GATE_KINDS as [GateKind, ...GateKind[]]),
    owner: z
      .string()
      .trim()
      .min(1, "Name who has to act, such as the site owner.")
      .max(80, "Name who has to act in at most 80 characters."),
    state: gateState,
    dueOn: z.string(),
  }),
  run: (input, { db, visitor, now }) => {
    if (!loadHop(db, input.hopCode)) {
      return refused({
        path: "hopCode",
        rule: "hop-unknown",
        value: input.hopCode,
        ...sentences(
          phrase("There is no hop {{hopCode}} with both its ends.", { hopCode: input.hopCode }),
          phrase("Reload the page; the design data may have been brought in again."),
        ),
      });
    }
    const dueOn = parseCalendarDate(input.dueOn);
    if (input.state === "dated" && !dueOn) {
      return refused(needsDate(input.dueOn));
    }
    const added: Gate = {
      hopId: input.hopCode,
      side: input.side === "both" ? undefined : input.side,
      kind: input.kind,
      owner: input.owner,
      state: input.state,
      dueOn: input.state === "open" ? undefined : dueOn,
    };
    if (!insertGate(db, added)) {
      return refused({
        path: "kind",
        rule: "gate-exists",
        value: input.kind,
        ...sentences(
          phrase("The hop has a gate of this kind at this end already, so nothing was saved."),
          phrase("Change that gate, or choose another kind or end."),
        ),
      });
    }
    addLogEntry(db, {
      at: now,
      userName: visitor.name,
      action: "add gate",
      subject: `hop ${input.hopCode}`,
      detail: {
        kind: added.kind,
        side: input.side,
        owner: added.owner,
        to: { state: added.state, dueOn: added.dueOn ?? null },
      },
    });
    return ok({ kind: added.kind, state: added.state, dueOn: added.dueOn ?? null });
  },
  revalidate: ({ hopCode }) => [`/hops/${encodeURIComponent(hopCode)}`, "/sites", "/programme"],
});

/** Acceptance readings from the desk. A failed one opens the revisit that it asks for. */
export const recordReadings = defineAction({
  name: "record-readings",
  roles: ["manager", "administrator"],
  reach: ({ hopCode }) => [hopCode],
  input: z.object({
    hopCode: z.string().min(1).max(60),
    takenOn: z.string().refine((d) => parseCalendarDate(d) !== undefined, "Give the day as YYYY-MM-DD."),
    note: z.string().trim().max(500),
    /** They stand in place of the last ones of the same things, which were entered wrongly. */
    isCorrection: z.boolean().default(false),
    readings: newReadings.min(1, "Enter at least one reading."),
  }),
  run: ({ takenOn, ...input }, { db, visitor, now }) => {
    const stored = storeReadings(
      db,
      { ...input, takenOn: takenOn as CalendarDate },
      { name: visitor.name, at: now, today: homeToday(db) },
    );
    if (!stored.ok) return stored;
    const { acceptance, opened, withdrawn } = stored.value;
    if (withdrawn.length > 0) netAgain(db, visitor);
    return ok({ state: acceptance.state, opened, withdrawn });
  },
  revalidate: ({ hopCode }) => [`/hops/${encodeURIComponent(hopCode)}`, "/sites", "/programme"],
});

/** Opens another revisit for a reading that still fails when those before are done or withdrawn. The next plan places it. */
export const openRevisit = defineAction({
  name: "open-revisit",
  roles: ["manager", "administrator"],
  reach: ({ hopCode }) => [hopCode],
  input: z.object({ hopCode: z.string().min(1).max(60), askedId: z.string().min(1).max(120) }),
  run: (input, { db, visitor, now }) => openAnotherRevisit(db, input, { name: visitor.name, at: now }),
  revalidate: ({ hopCode }) => [`/hops/${encodeURIComponent(hopCode)}`, "/programme"],
});

/**
 * Takes back a revisit that is not needed after all. The plan in force keeps its row until the next plan; what it needed
 * is netted out at once.
 */
export const withdrawRevisit = defineAction({
  name: "withdraw-revisit",
  roles: ["manager", "administrator"],
  reach: ({ visitId }) => reachOfVisit(visitId),
  input: z.object({
    visitId: z.string().min(1).max(200),
    why: z.string().trim().min(3, "Say in a few words why it is not needed.").max(300),
  }),
  run: (input, { db, visitor, now }) =>
    andNet(takeBackRevisit(db, input, { name: visitor.name, at: now }), db, visitor),
  revalidate: ({ visitId }) => [
    `/hops/${encodeURIComponent(parseVisitId(visitId)?.hopCode ?? "")}`,
    "/programme",
  ],
});
