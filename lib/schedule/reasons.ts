/**
 * What plans say of visits without a place and of broken rules, as sentences with places: plans keep these texts in
 * English, and a screen reads them back to say them in its reader's language: one of a thing is a sentence of its own.
 * More special ones stand first.
 */
import { GATE_KINDS } from "@/lib/site";
import { WORK_CLASSES } from "@/lib/weather";
import { UNIT_WORDS } from "./counted";
import { RULES } from "./rules";

/** Whole reasons, put together from those below. */
const WHOLE = [
  "{{why}} ({{n}} of 1 crew-day); {{remedy}}",
  "{{why}} ({{n}} of 1 crew-day)",
  "{{why}} ({{n}} of {{m}} crew-days); {{remedy}}",
  "{{why}} ({{n}} of {{m}} crew-days)",
  "no crew works from {{day}} to the plan's end; {{remedy}}",
  "no crew works from {{day}} to the plan's end",
  "{{what}} on {{day}} with {{crew}} would place it",
  "one more crew day would place it",
];

/** What keeps a visit from a crew and a day: `text` of the rules. */
const STOPS = [
  "the site is closed on {{weekday}}",
  "it would not end within the 1 day of the plan",
  "it would not end within the {{n}} days of the plan",
  "a pinned or frozen visit leaves no room for it",
  "its kit can be whole only on {{day}}",
  "other kits take what there is of {{items}} by then",
  "more than 1 night away in a row",
  "more than {{n}} nights away in a row",
  "the site wants 1 day's notice",
  "the site wants {{n}} days' notice",
  "it must wait for {{visit}}",
  "{{visit}}, which waits for it, would begin before it ends",
  "the kits together are over the {{n}} kg of the vehicle",
  "the crew lacks people on a later day of the work",
  "the crew is {{missing}} short",
  "the crew does not work that day",
  "its gates open only on {{day}}",
  "the crew would have less than {{n}} h of rest before its next shift",
  "the crews' days are full of other work",
  "travel, set-up and work do not fit in the shift and its overtime",
  "another crew is on the site",
  "no two crews can be at both ends at once (with {{visit}})",
  "no hours are open long enough for {{work}} work",
  "the crew would pass its {{n}} h in that week",
  "the order of the hop's visits",
  "other work",
];

/** What would have to be given for it to have a place. */
const REMEDIES = [
  "the kit whole",
  "its gates open",
  "access at shorter notice",
  "{{n}} h more overtime",
  "the site open all day",
  "a day open for its work",
  "a second crew on the site",
  "{{n}} h more in the week",
  "{{n}} kg carried besides what {{crew}} has room for",
  "{{missing}} more",
  "more people",
];

/** What keeps it out of every plan. */
const BLOCKS = [
  "{{visit}} has no place in the plan",
  "waits for {{visit}}",
  "open gate: {{gate}} ({{owner}}), no date",
  "site {{site}} has no coordinate: add latitude and longitude",
  "design check: {{message}}",
  "it had no place before",
  "the visit came after the plan was made",
  "no place beside {{visit}}",
  "nothing fits",
];

/** What the judge says of a plan. */
const BROKEN = [
  "kits begun from {{day}} to {{other}} take up to {{n}} m of {{item}} more than has come",
  "kits begun from {{day}} to {{other}} take up to {{n}} {{unit}} of {{item}} more than has come",
  "kits begun from {{day}} to {{other}} take up to {{n}} of {{item}} more than has come",
  "kits begun by {{day}} take {{n}} m of {{item}}, of which {{m}} m have come",
  "kits begun by {{day}} take {{n}} {{unit}} of {{item}}, of which {{m}} have come",
  "kits begun by {{day}} take {{n}} of {{item}}, of which {{m}} have come",
  "{{visit}} is pinned and was moved",
  "{{visit}} is under way and was moved",
  "{{visit}} lies in the frozen days and was moved",
  "{{visit}} is new in the frozen days",
  "starts 1 day before its gates are open",
  "starts {{n}} days before its gates are open",
  "starts 1 day before its kit can be whole",
  "starts {{n}} days before its kit can be whole",
  "is placed but waits for {{visit}}, which is not",
  "starts before {{visit}} ends",
  "{{visit}} at the other end is not placed",
  "both ends are given to the same crew",
  "does not start with {{visit}}",
  "does not end with {{visit}}",
  "{{visit}} on a day on which the crew does not work",
  "a night away without a day's work",
  "a night away without work next to it",
  "{{visit}} needs {{n}} {{people}}, the crew has {{m}}",
  "{{visit}} on a day on which the site is closed",
  "{{visit}} goes on the next day, yet other work follows it today",
  "{{visit}} starts at {{clock}}; with way, access and set-up it can start at {{other}}",
  "{{visit}} has no workable minute at its start, {{clock}}",
  "{{visit}} ends at {{clock}} with {{long}} of work left: too short for its hours and weather",
  "{{visit}} ends at {{clock}} with work left: too short for its hours and weather",
  "{{visit}} is done at {{clock}}, not at {{other}}",
  "{{visit}} ends at {{clock}}, the site closes at {{other}}",
  "{{visit}} goes on although all its work is done",
  "the night is not where the day's work ended",
  "a night away before a day off",
  "1 night in a row, {{m}} allowed",
  "{{n}} nights in a row, {{m}} allowed",
  "ends at {{clock}}, {{other}} with {{n}} min of overtime is the limit",
  "ends at {{clock}}, {{other}} with {{long}} of overtime is the limit",
  "only {{n}} min of rest before the shift",
  "only {{long}} of rest before the shift",
  "the load is {{n}} kg, the vehicle takes {{m}} kg",
  "{{n}} min in the week, {{m}} allowed",
  "{{long}} in the week, {{limit}} allowed",
  "{{crew}} and {{other}} are on {{site}} at the same time ({{day}})",
  "a night away names what does not exist",
];

const WORDS = [
  ...WORK_CLASSES,
  ...GATE_KINDS,
  ...["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"],
  ...["climber", "rescuer", "rigger", "technician", "person"],
  ...["climbers", "rescuers", "riggers", "technicians", "people"],
];

/** Said of whom or of what, then what: tried last, for much reads so. */
const ABOUT = [
  "{{n}} {{people}} and {{m}} {{others}} and {{k}} {{more}}",
  "{{n}} {{people}} and {{m}} {{others}}",
  "{{n}} {{people}}",
  "{{crew}}, week of {{day}}: {{message}}",
  "{{crew}}, {{day}}: {{message}}",
  "{{visit}}: {{message}}",
];

/** Names under which reasons are sorted, beside those of the rules. */
const NAMES = [
  ...["design check", "coordinate", "moved by hand", "not in the plan", "not placed"],
  ...["whole plan", "calendar", "work"],
];

export const REASONS: readonly string[] = [
  ...RULES.map((rule) => rule.name),
  ...NAMES,
  ...WORDS,
  ...WHOLE,
  ...STOPS,
  ...REMEDIES,
  ...BLOCKS,
  ...BROKEN,
  ...UNIT_WORDS,
  ...ABOUT,
];
