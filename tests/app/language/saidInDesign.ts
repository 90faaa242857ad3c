import { OWN_ACTS } from "@/app/_server/accountEdits";
import { VOID } from "@/app/_server/invitations";
import { GUESSABLE, PASSWORD_LENGTH_MIN } from "@/app/_server/passwords";
import { PEOPLE } from "@/app/_server/roles";
import { deliveredBody, type FigureKind, figuresOf } from "@/app/_server/ruleFigures/figuresOf";
import { POINT_WORDS } from "@/app/_ui/RouteSketch";
import { FACTOR_LOOK } from "@/app/_ui/weather/factors";
import { DEVICES } from "@/app/(work)/account/sessionWords";
import { FIXED } from "@/app/(work)/add/ColumnField";
import { fieldsOf } from "@/app/(work)/add/fields";
import { PART_WORDS } from "@/app/(work)/add/hop/HopForm";
import { SITE_GROUPS } from "@/app/(work)/add/site/SiteForm";
import { GATE_SIDES, GATE_STATES, USUAL_OWNERS } from "@/app/(work)/hops/[code]/EditableGates";
import { HOP_STATE, STRUCTURE_WORDS } from "@/app/(work)/hops/hopStates";
import { CONFIDENCE } from "@/app/(work)/import/[id]/ColumnMatching";
import { STAGE } from "@/app/(work)/import/[id]/JobWatch";
import { ASKED } from "@/app/(work)/import/[id]/QuestionFields";
import { ROW_COLUMNS } from "@/app/(work)/import/[id]/RowsTable";
import { SEPARATOR } from "@/app/(work)/import/[id]/TableCard";
import { FATE_WORDS, STATE_OF_IMPORT, STATE_WITHOUT_ROWS } from "@/app/(work)/import/importWords";
import { TITLES } from "@/app/(work)/rules/AccountsTab";
import { ABOUT, RULE_TABS } from "@/app/(work)/rules/about";
import { LASTS, SCOPE_WORDS } from "@/app/(work)/rules/InterfaceTab";
import { LOG_SUBJECTS } from "@/app/(work)/rules/logSubject";
import { LOG_WORDS } from "@/app/(work)/rules/logWords";
import { ALLOWANCES, LEVELS } from "@/app/(work)/rules/RuleDialog";
import { SKILL_WORDS } from "@/app/(work)/rules/words";
import { CHECK_STATES } from "@/app/(work)/sites/[code]/CheckList";
import { HELP_WORDS } from "@/app/(work)/sites/[code]/HelpTable";
import { TERRAIN } from "@/app/(work)/sites/[code]/SiteFacts";
import { TAKEN_DOWN_WORDS } from "@/app/(work)/sites/[code]/takenDown";
import { CHECK_WORDS } from "@/app/(work)/sites/checkMarks";
import { HOP_COLUMNS } from "@/app/(work)/sites/hopColumns";
import { LEVEL_WORDS } from "@/app/(work)/sites/levelWords";
import { SITE_COLUMNS, SNAGS } from "@/app/(work)/sites/siteColumns";
import { KIND_NAMES, kindOf } from "@/lib/exchange";
import { readList } from "@/lib/exchange/lists";
import { SKILLS } from "@/lib/hours";
import { ANTENNA_MOUNTS, GATE_KINDS, ITEM_CATEGORIES, ODU_ROLES } from "@/lib/site";
import { WORD_UNITS } from "@/lib/site/problems";
import { CHECK_TEXTS, DEFAULT_RULES, DRIVERS, LINE_REASONS } from "@/lib/takeoff";

const KINDS: readonly FigureKind[] = [
  "takeoff policy",
  "weather limits",
  "hour norms",
  "plan weights",
  "cutting",
  "stock",
  "acceptance limits",
];

/** Where delivered figures and rows come from. */
const SOURCE_TEXTS: readonly string[] = [
  ...KINDS.flatMap((kind) =>
    figuresOf(kind, deliveredBody(kind)).flatMap((g) => g.figures.map((f) => f.source)),
  ),
  ...DEFAULT_RULES.map((rule) => rule.source),
];

/** Names of the figures of every kind, without the ends that are said apart (figureName). */
const FIGURE_TEXTS: readonly string[] = KINDS.flatMap((kind) =>
  figuresOf(kind, deliveredBody(kind)).flatMap((group) => [
    // Tasks are among the texts of the norms.
    ...(/emplates-/.test(group.id) ? [] : [group.title]),
    ...group.figures.flatMap((f) => [
      f.label.replace(/, (optimistic|likely|pessimistic)$/, "").replace(/, each \w+$/, ""),
      // Signs of units are the same everywhere.
      ...(/[a-z]{4}| |degC|mm2/.test(f.unit) ? [f.unit] : []),
      ...(f.choices ?? []).map((c) => c.label),
    ]),
  ]),
);

const RULE_HEADS = ["Row", "Item", "Category", "Driver", "Factor", "Offset", "Allowance", "Step"].concat([
  "Rounded over",
  "When",
  "Source",
  "In use",
]);

/** What a table says of its columns. */
const headsOf = (columns: readonly { header: string; hint?: string }[]): string[] =>
  columns.flatMap((c) => (c.hint ? [c.header, c.hint] : [c.header]));

const route = readList("route", "?");
const ROUTE_EXPECTED = route.ok ? "" : route.expected;

/** Texts that pages of the area design say through a variable. */
export const SAID_IN_DESIGN: readonly string[] = [
  ...WORD_UNITS,
  ...DEVICES,
  ...Object.values(PEOPLE),
  ...[VOID].flatMap((p) => [p.message, p.remedy]),
  ...OWN_ACTS,
  // Refusals that every action may give (carryOut.ts).
  "You are not signed in, or your session has ended.",
  "Sign in, then try again.",
  "This key was used before for something else, so nothing was changed.",
  "Reload the page and try again.",
  "Correct this value and send it again.",
  "Fill it in and send it again.",
  // What inputs ask for.
  "Give the reading as a number.",
  "Below -200: check the reading and its unit.",
  "Too large for any reading: check the unit.",
  "Give the target level as a number.",
  "A target below -120 dBm: check the sign and the unit.",
  "A target above 10 dBm: check the sign and the unit.",
  "Give the day as YYYY-MM-DD.",
  "Say in a few words why.",
  "A reason may have 300 characters at most.",
  "Ask another administrator to do it.",
  "Change it on your account page.",
  "Turn it off on your account page.",
  "End them on your account page.",
  "A code has 6 digits.",
  "A key lasts a day at least.",
  "Change at least one figure.",
  "Choose a crew member.",
  "Choose a crew.",
  "Choose a time zone by its name, such as Europe/Oslo, or UTC.",
  "Choose at least one thing that the key may do.",
  "Enter a sign-in name in the form of an e-mail address.",
  "Enter at least one reading.",
  "Enter the person's name.",
  "Enter the token that was printed when the programme started.",
  "Enter your name.",
  "Say in a few letters which program uses it.",
  "Say in a few words why it is not needed.",
  "Say in a few words why it is lifted.",
  "Name who has to act, such as the site owner.",
  "Name who has to act in at most 80 characters.",
  "Say what kind of leave it is.",
  "The new password may have 128 characters at most.",
  "The password may have 128 characters at most.",
  "Type your current password.",
  "The two new passwords differ.",
  GUESSABLE,
  `The password needs at least ${PASSWORD_LENGTH_MIN} characters.`,
  `The new password needs at least ${PASSWORD_LENGTH_MIN} characters.`,
  "The new password is the current one.",
  "The two passwords differ.",
  // The account page's head and dialogs.
  "rollout manager",
  ...["Turn on the second factor", "New backup codes", "Turn off the second factor?"],
  // Lists of sites and hops.
  ...headsOf(HOP_COLUMNS),
  ...headsOf(SITE_COLUMNS),
  ...Object.keys(HOP_STATE),
  ...Object.values(HOP_STATE).map((s) => s.word),
  ...Object.values(STRUCTURE_WORDS),
  ...[...CHECK_WORDS, ...SNAGS],
  ...["site", "sites", "hop", "hops"],
  // Rules.
  ...Object.values(RULE_TABS),
  ...Object.keys(ABOUT),
  ...Object.values(ABOUT),
  ...FIGURE_TEXTS,
  ...SOURCE_TEXTS,
  ...["optimistic", "likely", "pessimistic", "each run", "each antenna", "each ODU", "per m"],
  ...["stricter", "looser", "changed", "As delivered with the product"],
  ...["everybody", "climbers", "climber", "rigger", "ground hand", "radio technician", "everyone aloft"],
  ...Object.values(SKILL_WORDS),
  ...RULE_HEADS,
  ...LINE_REASONS,
  ...CHECK_TEXTS,
  ...Object.entries(DRIVERS).flatMap(([name, d]) => [name, ...(d.meaning === "1" ? [] : [d.meaning])]),
  ...ITEM_CATEGORIES,
  ...[...LEVELS, ...ALLOWANCES, ...LASTS].map((l) => l.label),
  ...Object.entries(SCOPE_WORDS).flat(),
  ...Object.values(TITLES),
  // What is brought in.
  ...KIND_NAMES.flatMap((name) => [kindOf(name).title, kindOf(name).description]),
  // What the columns of files mean; their names stay English.
  ...KIND_NAMES.flatMap((name) => kindOf(name).columns.map((c) => c.description)),
  ...Object.values(STATE_OF_IMPORT).map((s) => s.word),
  ...Object.values(STATE_WITHOUT_ROWS).map((s) => s.word),
  ...Object.entries(FATE_WORDS).flatMap(([fate, s]) => [fate, s.word]),
  ...[CONFIDENCE, ASKED, STAGE, SEPARATOR].flatMap((words) => Object.values(words)),
  ...headsOf(ROW_COLUMNS),
  ...["point", "comma", "day first", "month first"],
  // What is typed into the forms of a site and a hop, and what is wrong with it.
  ...(["sites", "hops", "ends", "antennas", "radios", "gates"] as const).flatMap((name) =>
    fieldsOf(name, "point").flatMap((c) => [c.label, ...(c.choices ?? [])]),
  ),
  ...SITE_GROUPS.map((g) => g.title),
  ...Object.values(PART_WORDS).flatMap((w) => Object.values(w)),
  FIXED,
  ...["items", "antennas", "a number", "a whole number", "Near end", "Far end"],
  ...["must be a whole number", "holds control characters", "has no segment"],
  ...["has a segment under 0.01 m", "has a segment over 5000 m"],
  ROUTE_EXPECTED,
  // A site and a hop.
  ...["Overview", "Take-off", "Hours", "Weather", "Visits and history"],
  ...["Overview", "Alignment", "Acceptance", "Record and log"],
  ...Object.values(TERRAIN),
  ...Object.values(CHECK_STATES),
  ...Object.values(HELP_WORDS),
  ...Object.values(POINT_WORDS),
  ...Object.values(FACTOR_LOOK).map((look) => look.word),
  ...["piece", "can", "roll", "tube", "pack"],
  ...["Climb down", "Kit up and climb", "Rest on the ground", "change polarisation part"],
  ...SKILLS,
  ...ODU_ROLES,
  ...ANTENNA_MOUNTS,
  ...GATE_KINDS,
  ...GATE_STATES.map((s) => s.label),
  ...GATE_SIDES.map((s) => s.label),
  ...Object.values(USUAL_OWNERS),
  ...["contractor", "customer", "direct", "remote", "low", "high"],
  ...Object.values(LEVEL_WORDS),
  ...["receive level", "cross-polar", "switch-over", "earth resistance", "error run", "photos"],
  ...["Passed", "Failed", "Open"],
  ...Object.values(TAKEN_DOWN_WORDS),
  ...LOG_WORDS,
  ...LOG_SUBJECTS,
];
