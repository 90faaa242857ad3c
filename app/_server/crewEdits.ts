/** Certificates and leave: who may change them. */
import { z } from "zod";
import type { Db } from "@/db/open";
import { loadCrews } from "@/db/queries/crews";
import { countOnLeave, shortVisits } from "@/db/queries/missingPeople";
import { removeCertificate, removeLeave, setCertificate, setCrewLeave, setLeave } from "@/db/queries/rules";
import { SKILLS } from "@/lib/hours";
import { ok, type Result } from "@/lib/result";
import { type CalendarDate, parseCalendarDate } from "@/lib/time";
import type { ActionContext, ActionDefinition } from "./carryOut";
import { homeToday } from "./clock";

const PLANNERS = ["administrator", "manager"] as const;

const reason = z.string().trim().min(3, "Say in a few words why.").max(300, "300 characters at most.");
const date = z.custom<CalendarDate>(
  (v) => typeof v === "string" && parseCalendarDate(v) !== undefined,
  "Enter a date such as 2026-03-16.",
);
const memberCode = z.string().min(1, "Choose a crew member.").max(60);
const skill = z.enum(SKILLS as [(typeof SKILLS)[number], ...(typeof SKILLS)[number][]]);

const who = ({ visitor, now }: ActionContext) => ({ name: visitor.name, at: now });

export interface CertificateSaved {
  /** Visits of the plan in force that their crew could do until now, and can no longer. */
  short: number;
}

function countingShort(db: Db, change: () => Result<null>): Result<CertificateSaved> {
  const before = shortVisits(db, homeToday(db));
  const stored = change();
  if (!stored.ok) return stored;
  const after = shortVisits(db, homeToday(db));
  return ok({ short: [...after].filter((id) => !before.has(id)).length });
}

const certificateInput = z.object({ memberCode, skill, validUntil: date.nullable() });

export const setCertificateAction: ActionDefinition<typeof certificateInput, CertificateSaved> = {
  name: "set-certificate",
  roles: PLANNERS,
  input: certificateInput,
  run: (input, context) => countingShort(context.db, () => setCertificate(context.db, input, who(context))),
};

const removeCertificateInput = z.object({ memberCode, skill, reason });

export const removeCertificateAction: ActionDefinition<typeof removeCertificateInput, CertificateSaved> = {
  name: "remove-certificate",
  roles: PLANNERS,
  input: removeCertificateInput,
  run: (input, context) =>
    countingShort(context.db, () => removeCertificate(context.db, input, who(context))),
};

/** Of one person, or with `crewCode` of everybody of a crew. */
const leaveInput = z
  .object({
    memberCode: memberCode.optional(),
    crewCode: z.string().min(1).max(60).optional(),
    fromOn: date,
    toOn: date,
    reason: z.string().trim().min(2, "Say what kind of leave it is.").max(120, "120 characters at most."),
    replaces: date.optional(),
  })
  .refine((l) => (l.memberCode === undefined) !== (l.crewCode === undefined), {
    path: ["memberCode"],
    message: "Choose a crew member.",
  });

export interface LeaveSaved {
  /** Of the plan in force, on the leave. */
  visits: number;
  /** Of them, what the crew that is left cannot do. */
  short: number;
}

export const setLeaveAction: ActionDefinition<typeof leaveInput, LeaveSaved> = {
  name: "set-leave",
  roles: PLANNERS,
  input: leaveInput,
  run: (input, context) => {
    const { db } = context;
    const { memberCode, crewCode = "", ...days } = input;
    const stored =
      memberCode === undefined
        ? setCrewLeave(db, { ...days, crewCode }, who(context))
        : setLeave(db, { ...days, memberCode }, who(context));
    if (!stored.ok) return stored;
    const memberCodes =
      memberCode === undefined
        ? (loadCrews(db).find((c) => c.code === crewCode)?.members ?? []).map((m) => m.code)
        : [memberCode];
    return ok(countOnLeave(db, homeToday(db), { ...days, memberCodes }));
  },
};

const removeLeaveInput = z.object({ memberCode, fromOn: date });

export const removeLeaveAction: ActionDefinition<typeof removeLeaveInput, null> = {
  name: "remove-leave",
  roles: PLANNERS,
  input: removeLeaveInput,
  run: (input, context) => removeLeave(context.db, input, who(context)),
};
