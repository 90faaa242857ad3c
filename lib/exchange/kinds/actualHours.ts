import { WORK_KINDS } from "@/lib/calibration";
import { columnsOf } from "../columns";
import type { ActualHoursRow } from "../rows";
import type { ImportKind } from "../types";
import { hopCode, side } from "./ends";

const c = columnsOf<ActualHoursRow>();

export const actualHours: ImportKind<"actual hours"> = {
  name: "actual hours",
  title: "Actual hours",
  description:
    "Hours that a crew worked on a visit on one day, from its own records: estimates are held against them.",
  key: ["hopCode", "side", "work", "visitNo", "workedOn"],
  notAfterToday: "workedOn",
  references: [
    { columns: ["hopCode"], kinds: ["hops"] },
    { columns: ["crewCode"], kinds: ["crews"] },
  ],
  columns: [
    hopCode,
    side,
    c.choice("work", "Work", "install", "install, or alignment with its acceptance.", {
      required: true,
      aliases: ["visit", "kind of work", "visit kind"],
      choices: WORK_KINDS,
      choiceAliases: { installation: "install", align: "alignment" },
    }),
    c.integer("visitNo", "Visit no.", "1", "2 for the second visit of work that takes several.", {
      aliases: ["visit number", "part"],
      min: 1,
      max: 9,
      default: 1,
    }),
    c.date("workedOn", "Worked on", "2026-02-17", "Day of the work.", {
      required: true,
      aliases: ["date", "day", "work date", "day worked"],
    }),
    c.text("crewCode", "Crew", "C1", "Crew that did it.", {
      required: true,
      aliases: ["crew code", "team"],
      maxLength: 60,
    }),
    c.count(
      "workedMin",
      "Worked",
      "min",
      "385",
      "Time of the crew on site that day, set-up included; not the sum over its people.",
      {
        required: true,
        aliases: ["time worked", "hours worked", "actual", "duration", "minutes worked"],
        above: 0,
        max: 1440,
      },
    ),
    c.yesNo(
      "isFinished",
      "Finished",
      "yes",
      "Did the visit end with it? A visit counts once it is finished.",
      {
        aliases: ["done", "is finished", "complete"],
        default: true,
      },
    ),
    c.list(
      "tasks",
      "Tasks",
      "task minutes",
      "fix-cable 62; connect 35; weatherproof 40",
      "Minutes of tasks that were timed, separated by ; names as on the Rules page under Hour norms or as in an export.",
      { aliases: ["task minutes", "minutes by task"], default: [] },
    ),
  ],
};
