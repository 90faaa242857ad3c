import { JOB_KINDS } from "@/app/_server/jobKinds";
import { BOARD_KEYS } from "@/app/_ui/board/BoardKey";
import { SETTLED_WORDS } from "@/app/_ui/board/settled";
import { KIND_LOOK, KIT_LOOK, REPORT_LOOK, WEATHER_LOOK, ZOOMS } from "@/app/_ui/board/types";
import { KIT_STATES } from "@/app/_ui/states";
import { CLASS_WORDS, FACTOR_LOOK, lookOf } from "@/app/_ui/weather/factors";
import { HOP_STATE } from "@/app/(work)/hops/hopStates";
import { OUTLINES_NOT_REACHED } from "@/app/(work)/map/ground/GroundForms";
import { DAY_NOT_REACHED } from "@/app/(work)/map/useCrewDay";
import { BOARD_FILTERS } from "@/app/(work)/plan/boardFilter";
import { STAGES } from "@/app/(work)/plan/solve/SolveForm";
import { REMEDIES_BY_HAND, REMEDY_FOR_WAITING } from "@/app/(work)/plan/why";
import { DRIVER_COLUMNS } from "@/app/(work)/programme/finish/DriverTables";
import { CAUSE_WORDS, START_WORDS } from "@/app/(work)/programme/finish/words";
import { LEVEL_WORDS } from "@/app/(work)/programme/hours/words";
import { CHANGE_WORDS, FINDING_WORDS } from "@/app/(work)/weather/FindingTable";
import { DAY_TEXTS } from "@/app/(work)/weather/siteHours";
import { LOG_ACTIONS } from "@/db/queries/log";
import { JOB_STATES } from "@/db/schema/job";
import { PROPOSAL_LEVELS } from "@/lib/calibration";
import { COST_LINES, costLinesOf, HELD_BY, SETTLED } from "@/lib/programme";
import { REASONS } from "@/lib/schedule";
import { DEMO_WEATHER_SOURCE } from "@/seed/weather";

/** Texts that pages of the area planning say through a variable. */
export const SAID_IN_PLANNING: readonly string[] = [
  ...BOARD_KEYS.flat(),
  ...Object.values(SETTLED_WORDS),
  ...[KIND_LOOK, KIT_LOOK, REPORT_LOOK, WEATHER_LOOK, FACTOR_LOOK].flatMap((looks) =>
    Object.values(looks).map((look) => look.word),
  ),
  ...Object.keys(ZOOMS).filter((zoom) => /\d/.test(zoom)),
  ...Object.values(CLASS_WORDS),
  ...Object.values(BOARD_FILTERS).map((filter) => filter.label),
  ...Object.values(STAGES),
  ...Object.values(HELD_BY),
  ...Object.values(REMEDIES_BY_HAND),
  REMEDY_FOR_WAITING,
  ...[...COST_LINES, ...costLinesOf("in force")].flatMap((line) => [line.label, line.unit]),
  ...SETTLED,
  ...REASONS,
  ...LOG_ACTIONS,
  ...DRIVER_COLUMNS.flatMap((columns) => columns.flatMap((c) => [c.header, ...(c.hint ? [c.hint] : [])])),
  ...["visit", "crew", "item", "hop"].flatMap((word) => [word, `${word}s`]),
  ...[CAUSE_WORDS, START_WORDS, LEVEL_WORDS].flatMap((words) => Object.values(words)),
  ...PROPOSAL_LEVELS.filter((level) => level !== "range"),
  ...["Crew", "Scheme", "Work", "Task"].flatMap((word) => [word, word.toLowerCase()]),
  ...["Ends", "Off in force", "Off as proposed", "In all, in force", "In all, as proposed"],
  ...Object.values(HOP_STATE).map((state) => state.word),
  ...DAY_TEXTS,
  DEMO_WEATHER_SOURCE,
  ...[true, false].map((workable) => lookOf({ workable, factor: "wind", text: "" }).words),
  ...Object.values(FINDING_WORDS).map((finding) => finding.word),
  ...Object.values(CHANGE_WORDS),
  ...Object.values(JOB_KINDS).map((kind) => kind.label),
  ...JOB_STATES.filter((state) => state !== "cancelled"),
  ...[OUTLINES_NOT_REACHED, DAY_NOT_REACHED].flatMap((problem) => [problem.message, problem.remedy]),
  // States of plans and of kits.
  ...["draft", "in force", "past", "gone"],
  ...["ready", "expected", "short", "issued"],
  ...Object.values(KIT_STATES).map((look) => look.word),
];
