"use server";

import { z } from "zod";
import { defineAction } from "@/app/_server/action";
import { loadHop, saveGate } from "@/db/queries/design";
import { addLogEntry } from "@/db/queries/reports";
import { ok, refused } from "@/lib/result";
import { GATE_KINDS, type Gate, type GateKind } from "@/lib/site";
import { parseCalendarDate } from "@/lib/time";

const gateState = z.enum(["open", "dated", "met"]);

/** Sets a gate's state and date. The plan in force stays as it is until a planner makes the next one. */
export const changeGate = defineAction({
  name: "change-gate",
  roles: ["manager", "administrator"],
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
        message: `Hop ${input.hopCode} has no such gate.`,
        remedy: "Reload the page; the design data may have been brought in again.",
      });
    }
    if (gate.state !== input.seen.state || (gate.dueOn ?? "") !== input.seen.dueOn) {
      return refused({
        path: "state",
        rule: "gate-changed-meanwhile",
        value: gate.state,
        message: "Somebody changed this gate since you opened the page, so nothing was saved.",
        remedy: "Reload the page, look at the new state and change it again if need be.",
      });
    }
    const dueOn = parseCalendarDate(input.dueOn);
    if (input.state === "dated" && !dueOn) {
      return refused({
        path: "dueOn",
        rule: "gate-needs-date",
        value: input.dueOn,
        message: "An expected gate needs the date on which it is expected.",
        remedy: "Enter the date, or set the gate to open.",
      });
    }
    const changed: Gate = { ...gate, state: input.state, dueOn: input.state === "open" ? undefined : dueOn };
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
    return ok({ kind: gate.kind, state: changed.state, dueOn: changed.dueOn ?? null });
  },
  revalidate: ({ hopCode }) => [`/hops/${encodeURIComponent(hopCode)}`, "/sites", "/programme"],
});
