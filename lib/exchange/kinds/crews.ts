import { phrase } from "@/lib/phrase";
import { sentences } from "@/lib/result";
import { columnsOf } from "../columns";
import { timeOfDayText } from "../dates";
import type { CrewMemberRow, CrewRow } from "../rows";
import type { ImportKind } from "../types";
import { zoneFaults } from "./zones";

const c = columnsOf<CrewRow>();
const m = columnsOf<CrewMemberRow>();

export const crews: ImportKind<"crews"> = {
  name: "crews",
  title: "Crews",
  description:
    "Crews with depot, shift and limits. Working-time limits are planning figures: local law comes first.",
  key: ["code"],
  references: [{ columns: ["depotPlace"], kinds: ["places"] }],
  columns: [
    c.text("code", "Crew", "C1", "Code that names the crew.", {
      required: true,
      aliases: ["crew code", "code", "team"],
      maxLength: 60,
    }),
    c.text("name", "Name", "Crew North 1", "Name on lists.", { required: true, aliases: ["crew name"] }),
    c.text("depotPlace", "Depot", "WH-NORTH", "Place the crew starts from.", {
      required: true,
      aliases: ["depot code", "home place", "warehouse"],
      maxLength: 60,
    }),
    c.text("zone", "Time zone", "Europe/Zurich", "IANA time zone of the shift.", {
      required: true,
      aliases: ["timezone", "tz"],
    }),
    c.list("weekdays", "Work days", "weekdays", "Mon-Fri", "Weekdays of the shift.", {
      aliases: ["weekdays", "working days"],
      default: [1, 2, 3, 4, 5],
    }),
    c.time("shiftFromMin", "Shift from", "07:00", "Start of the shift, local time.", { default: 7 * 60 }),
    c.time("shiftToMin", "Shift to", "16:00", "End of the shift, local time.", {
      aliases: ["shift until"],
      default: 16 * 60,
    }),
    c.measure("payloadKg", "Payload", "kg", "900", "What the crew's vehicle carries.", {
      required: true,
      aliases: ["vehicle payload"],
      above: 0,
      max: 50_000,
    }),
    c.count("overtimeMaxMin", "Overtime a day", "min", "60", "Most overtime a day.", {
      aliases: ["overtime", "maximum overtime"],
      min: 0,
      max: 720,
      default: 0,
    }),
    c.count(
      "weeklyMaxMin",
      "Weekly maximum",
      "min",
      "2880",
      "Most working time a week (48 h: from memory, Directive 2003/88/EC).",
      {
        aliases: ["weekly hours", "weekly limit"],
        above: 0,
        max: 10_080,
        default: 2880,
      },
    ),
    c.integer("nightsAwayMax", "Nights away", "0", "Nights away in a row; 0 = back every day.", {
      aliases: ["maximum nights away"],
      min: 0,
      max: 60,
      default: 0,
    }),
    c.count(
      "restMin",
      "Rest",
      "min",
      "660",
      "Rest between two shifts (11 h: from memory, Directive 2003/88/EC).",
      {
        aliases: ["daily rest", "rest between shifts"],
        min: 0,
        max: 1440,
        default: 660,
      },
    ),
    c.number("pace", "Pace", "1", "Factor on durations; 1 = the norm.", { min: 0.2, max: 5, default: 1 }),
  ],
  check(row) {
    const faults = zoneFaults(row.zone);
    if (row.shiftToMin <= row.shiftFromMin) {
      faults.push({
        key: "shiftToMin",
        rule: "shift-ends-before-it-begins",
        value: timeOfDayText(row.shiftToMin),
        ...sentences(
          phrase("The shift ends at {{end}} and begins at {{begin}}.", {
            end: timeOfDayText(row.shiftToMin),
            begin: timeOfDayText(row.shiftFromMin),
          }),
          phrase("Give a later end; 24:00 is the end of the day."),
        ),
      });
    }
    return faults;
  },
};

export const crewMembers: ImportKind<"crew members"> = {
  name: "crew members",
  title: "Crew members",
  description: "People with their skills, the expiry of each certificate, and leave.",
  key: ["code"],
  references: [{ columns: ["crewCode"], kinds: ["crews"] }],
  columns: [
    m.text("code", "Person", "P-07", "Code that names the person.", {
      required: true,
      aliases: ["person code", "member", "staff number", "code"],
      maxLength: 60,
    }),
    m.text("crewCode", "Crew", "C1", "Crew of the person.", {
      required: true,
      aliases: ["crew code", "team"],
      maxLength: 60,
    }),
    m.text("name", "Name", "Climber North", "Name on lists.", { required: true, aliases: ["person name"] }),
    m.yesNo("isLead", "Crew lead", "no", "Does the person lead the crew?", {
      aliases: ["lead", "is lead"],
      default: false,
    }),
    m.list(
      "skills",
      "Skills",
      "skills",
      "climber until 2027-09-30; rescue until 2027-02-28; ground",
      "Skills with the last day of their certificate, separated by ; (climber, rescue, ground, rigger, technician).",
      { aliases: ["skill", "certificates", "skills and certificates"], default: [] },
    ),
    m.list(
      "leave",
      "Leave",
      "leave",
      "2026-12-24 to 2027-01-02 holiday",
      "Days off or spans of days with a reason, separated by ;",
      { aliases: ["absence", "holiday", "vacation"], default: [] },
    ),
  ],
};
