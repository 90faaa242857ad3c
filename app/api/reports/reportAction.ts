import { z } from "zod";
import type { ActionDefinition } from "@/app/_server/carryOut";
import { homeToday, onProgrammeClock } from "@/app/_server/clock";
import { startJob } from "@/app/_server/jobs";
import { reachOfVisit } from "@/app/_server/regions";
import { newReadings } from "@/app/(work)/hops/newReadings";
import { type ReportTaken, reportVisit as storeReport } from "@/db/queries/visitReport";
import { FAULT_CAUSES } from "@/lib/stock";
import { parseCalendarDate } from "@/lib/time";

const amount = z.number().min(0).max(100_000);

const input = z
  .object({
    visitId: z.string().min(1).max(200),
    workedOn: z.string().refine((d) => parseCalendarDate(d) !== undefined, "Give the day as YYYY-MM-DD."),
    outcome: z.enum(["done", "part done", "hold"]),
    workedMin: z
      .number({ error: "Give the hours worked as a number." })
      .min(0, "Hours worked cannot be below zero.")
      .max(7 * 1440, "More than a week of work in one report: check the hours."),
    /** Fields that the person was asked about and sends all the same. */
    sureOf: z.array(z.string().max(60)).max(320).default([]),
    /** The same of the hours, from a page or a waiting report of before other fields were asked about. */
    isHoursSure: z.boolean().default(false),
    /** When it was written, by the phone's clock. */
    writtenAtMillis: z.number().min(0).optional(),
    leftMin: z
      .number({ error: "Give the hours left as a number, or leave them empty." })
      .positive("Nothing left: report the visit as done.")
      .max(7 * 1440, "More than a week of work left: check the hours.")
      .optional(),
    holdReason: z.string().trim().max(300),
    note: z.string().trim().max(2000),
    /** The last report that the phone knew of when this one was written (0 = none); undefined = do not look. */
    lastSeenReportId: z.number().int().min(0).optional(),
    /** After a report that says done: work on another day, added to it instead of standing in its place. */
    isOnTop: z.boolean().default(false),
    readings: newReadings.default([]),
    parts: z
      .array(
        z.object({
          part: z.string().min(1).max(60),
          workedMin: z
            .number({ error: "Give a task's minutes as a number." })
            .positive("Leave a task empty that you did not time.")
            .max(1440, "More than a day for one task: check the minutes."),
        }),
      )
      .max(80)
      .refine((list) => new Set(list.map((p) => p.part)).size === list.length, "A task stands twice.")
      .default([]),
    faults: z
      .array(
        z.object({
          itemCode: z.string().min(1).max(60),
          serial: z.string().trim().min(1).max(60).optional(),
          cause: z.enum(FAULT_CAUSES),
          symptom: z.string().trim().min(3, "Say in a few words what is wrong with the unit.").max(300),
        }),
      )
      .max(20)
      .default([]),
    hung: z
      .array(
        z.object({
          oduLabel: z.string().min(1).max(60),
          serial: z.string().trim().min(1).max(60),
        }),
      )
      .max(8)
      .default([]),
    uses: z
      .array(
        z.object({
          itemCode: z.string().max(60),
          runId: z.string().max(200).nullable(),
          drumSerial: z.string().max(60).nullable(),
          used: amount,
          left: amount,
        }),
      )
      .max(300),
  })
  .refine((r) => r.outcome !== "hold" || r.holdReason.length >= 3, {
    path: ["holdReason"],
    message: "Say in a few words why the work is on hold.",
  });

/** A crew's report of a visit. Sent with a key by the phone: however often it arrives, it counts once. */
export const reportVisit: ActionDefinition<typeof input, ReportTaken> = {
  name: "report-visit",
  roles: ["crew lead", "manager", "administrator"],
  reach: ({ visitId }) => reachOfVisit(visitId),
  input,
  run: ({ isHoursSure, writtenAtMillis, ...report }, { db, visitor, now }) => {
    // A phone's clock that runs ahead has not seen the future.
    const writtenAt =
      writtenAtMillis === undefined ? now : Math.min(onProgrammeClock(writtenAtMillis, db), now);
    const stored = storeReport(
      db,
      { ...report, sureOf: isHoursSure ? [...report.sureOf, "workedMin"] : report.sureOf },
      { visitor, now, today: homeToday(db), writtenAt },
    );
    if (stored.ok) startJob(db, "net", {}, visitor.userId);
    return stored;
  },
};
