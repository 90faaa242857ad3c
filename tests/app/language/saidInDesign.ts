import { VOID } from "@/app/_server/invitations";
import { PEOPLE } from "@/app/_server/roles";
import { POINT_WORDS } from "@/app/_ui/RouteSketch";
import { FACTOR_LOOK } from "@/app/_ui/weather/factors";
import { DEVICES } from "@/app/(work)/account/sessionWords";
import { GATE_STATES } from "@/app/(work)/hops/[code]/EditableGates";
import { HOP_STATE, STRUCTURE_WORDS } from "@/app/(work)/hops/hopStates";
import { CHECK_STATES } from "@/app/(work)/sites/[code]/CheckList";
import { LEVEL_WORDS } from "@/app/(work)/sites/[code]/DesignTab";
import { HELP_WORDS } from "@/app/(work)/sites/[code]/HelpTable";
import { TERRAIN } from "@/app/(work)/sites/[code]/SiteFacts";
import { CHECK_WORDS } from "@/app/(work)/sites/checkMarks";
import { HOP_COLUMNS } from "@/app/(work)/sites/hopColumns";
import { SITE_COLUMNS, SNAGS } from "@/app/(work)/sites/siteColumns";
import { SKILLS } from "@/lib/hours";
import { ANTENNA_MOUNTS, GATE_KINDS, ODU_ROLES } from "@/lib/site";

/** What a table says of its columns. */
const headsOf = (columns: readonly { header: string; hint?: string }[]): string[] =>
  columns.flatMap((c) => (c.hint ? [c.header, c.hint] : [c.header]));

/** Texts that pages of the area design say through a variable. */
export const SAID_IN_DESIGN: readonly string[] = [
  ...DEVICES,
  ...Object.values(PEOPLE),
  ...[VOID].flatMap((p) => [p.message, p.remedy]),
  // Refusals that every action may give (carryOut.ts).
  "You are not signed in, or your session has ended.",
  "Sign in, then try again.",
  "This key was used before for something else, so nothing was changed.",
  "Reload the page and try again.",
  "Correct this value and send it again.",
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
  // A site and a hop.
  ...["Overview", "Take-off", "Hours", "Weather", "Visits and history"],
  ...["Overview", "Alignment", "Acceptance", "Record and log"],
  ...Object.values(TERRAIN),
  ...Object.values(CHECK_STATES),
  ...Object.values(HELP_WORDS),
  ...Object.values(POINT_WORDS),
  ...Object.values(FACTOR_LOOK).map((look) => look.word),
  ...["Kit up and climb", "Rest on the ground", "change polarisation part", "keep the removed part"],
  ...SKILLS,
  ...ODU_ROLES,
  ...ANTENNA_MOUNTS,
  ...GATE_KINDS,
  ...GATE_STATES.map((s) => s.label),
  ...["contractor", "customer", "direct", "remote", "low", "high"],
  ...Object.values(LEVEL_WORDS),
  ...["planned", "picked", "issued"],
  ...["receive level", "cross-polar", "switch-over", "earth resistance", "error run", "photos"],
  ...["Passed", "Failed", "Open"],
];
