import { ITEM_CATEGORIES, ODU_ROLES, SCHEMES } from "@/lib/site";
import { CONTENT_NAMES, MATCHED_NAMES, NEEDED_NAMES } from "./attributeNames";

/*
 * What design checks say, as sentences with places, so that a screen can read a finding back and say it in its reader's
 * language. More special ones stand first. {{n}}, {{m}} and {{k}} are numbers; {{code}}, {{codes}} and their others are
 * names that stay as they are; {{attributes}} and {{lacked}} are lists; other places may hold words of the list.
 */

/** One end against its scheme and its site: checks.ts. */
const END = [
  "Site {{code}} is not known: structure, height and earthing bar cannot be checked.",
  "Bring in the site or correct the end's site.",
  "{{code}} has no earthing bar for the runs.",
  "Whether {{code}} has an earthing bar is not surveyed.",
  "Have the site owner provide an earthing bar before the crew comes; kits and leads are planned all the same.",
  "Survey it; kits and leads are planned as if there were one.",
  "Two entries of this end carry the antenna {{code}}; both are counted.",
  "Two entries of this end carry the ODU role {{role}}; both are counted.",
  "Two entries of this end carry the ODU {{code}}; both are counted.",
  "Give each its own, or remove the one entered twice.",
  "{{scheme}} has 1 antenna per end, the design data {{n}}; {{m}} counted.",
  "{{scheme}} has {{n}} antennas per end, the design data {{m}}; {{k}} counted.",
  "{{scheme}} has 1 ODU per end, the design data {{n}}; {{m}} counted.",
  "{{scheme}} has {{n}} ODUs per end, the design data {{m}}; {{k}} counted.",
  "Correct the scheme or the antenna list.",
  "Correct the scheme or the ODU list.",
  "2+0 dual-polar has one ODU on V and one on H; both are on {{polarisation}}.",
  "{{scheme}} has both ODUs on one polarisation; the design data has V and H.",
  "Correct the ODUs' polarisations or the scheme.",
  "{{scheme}} feeds 1 antenna per end; the ODUs feed {{n}}.",
  "{{scheme}} feeds {{n}} antennas per end; the ODUs feed {{m}}.",
  "Correct which antenna each ODU feeds.",
  "The diversity antennas stand {{n}} m apart; usual is {{m}} to {{k}} m.",
  "Check both mount heights against the path calculation.",
  "The antenna {{code}} is for {{n}} GHz, the hop for {{m}} GHz.",
  "The ODU {{code}} is for {{n}} GHz, the hop for {{m}} GHz.",
  "Correct the band of one of them.",
  "ODU {{code}} feeds antenna {{otherCode}}, which this end does not have; its run is planned from the highest antenna.",
  "Correct the antenna label.",
  "ODU {{code}} works on {{polarisation}}, antenna {{otherCode}} on {{other}}.",
  "Correct the polarisation of one of them.",
  "The ODUs of this end transmit in different halves.",
  "All ODUs of one end transmit in the same half: correct the one that differs.",
  "Antenna {{code}} is mounted at {{n}} m on a structure of {{m}} m.",
  "Correct the mount height or the structure height.",
  "The run of {{code}} has no outdoor part: no earthing point can be placed and the cut length is only {{n}} m and surplus.",
  "Enter the route from the ODU down to the IDU.",
  "The run of {{code}} goes down {{n}} m, from {{m}} m to an entry at {{k}} m (assumed) it needs {{needed}} m.",
  "The run of {{code}} goes down {{n}} m, from {{m}} m to an entry at {{k}} m it needs {{needed}} m.",
  "Correct the vertical segments or the mount height, or give the entry height of this end.",
];

/** Both ends together: checkHop.ts. */
const HOP = [
  "Both ends are on site {{code}}.",
  "A hop joins two sites: correct one end.",
  "Both ends transmit in the {{half}} half.",
  "One end of a hop transmits in the high half, the other in the low half: correct one end.",
  "Near end transmits {{half}}, far end the other half.",
  "The near end looks like {{near}}, the far end like {{far}}; the hop says {{scheme}}.",
  "Both ends of a hop have one protection scheme: correct the end that differs.",
  "No coordinates for {{code}} and {{otherCode}}: the hop's length is not checked.",
  "No coordinates for {{code}}: the hop's length is not checked.",
  "Survey the coordinates.",
  "The two sites lie {{n}} m apart.",
  "Check that the ends are on two different sites and that both coordinates are right.",
  "The two sites lie {{n}} km apart.",
  "Check the coordinates' signs and whether latitude and longitude changed places.",
  "The ends differ in band (GHz): near {{near}}, far {{far}}.",
  "The ends differ in sub-band: near {{codes}}, far {{otherCodes}}.",
  "The ends differ in duplex spacing (MHz): near {{near}}, far {{far}}.",
  "The ends differ in polarisation: near {{near}}, far {{far}}.",
  "Both ends of a hop work on the same: correct the end that differs.",
];

/** Many hops: checkSites.ts. */
const PROGRAMME = [
  "{{code}} transmits in both halves of {{n}} GHz: high on {{codes}}, low on {{otherCodes}}.",
  "Check the frequency plan; where it is meant so, plan for the interference.",
  "Hop {{code}} is entered {{n}} times with different schemes: {{scheme}}, {{other}}.",
  "Hop {{code}} is entered {{n}} times; each is counted.",
  "Keep one and remove the others.",
  "Link end {{code}} is entered {{n}} times; its runs would be cut twice.",
  "Give every end its own id.",
  "Site code {{code}} is entered {{n}} times.",
  "Keep one and move the hops of the others to it.",
];

/** What the catalogue holds: catalogue.ts, rules.ts, runs.ts. */
const CATALOGUE = [
  "The catalogue has no {{category}} with {{attributes}}; the line is kept as {{code}}.",
  "The catalogue has no item {{code}} ({{rule}}); the line is kept as {{otherCode}}.",
  "The catalogue has no IF cable {{code}}; the line is kept as {{otherCode}}.",
  "The catalogue has no {{category}}; the line is kept as {{code}}.",
  "Add the item to the catalogue, or correct the attribute or code it is looked up by.",
  "{{n}} items fit as {{category}} with {{attributes}}: {{codes}}; {{code}} is taken.",
  "{{n}} items fit as {{category}}: {{codes}}; {{code}} is taken.",
  "Name the item's code in the rule, or make the items differ in what they are matched on.",
  "{{rule}} cannot be counted: {{code}} has no {{attribute}}.",
  "{{code}} has no cable diameter: connectors, kits, grips and tape cannot be matched to it.",
  "Enter the {{attribute}} of {{code}} in the catalogue.",
];

/** What was looked for, and what items lack, part by part of {{attributes}} and {{lacked}}. */
const ATTRIBUTES = [
  ...Object.entries(MATCHED_NAMES).flatMap(([attribute, [name, unit]]) => [
    `${name} unknown`,
    // A sub-band is a name: 07 is none of its figures.
    attribute === "subBand" ? `${name} {{code}}` : unit ? `${name} {{n}} ${unit}` : `${name} {{value}}`,
  ]),
  ...Object.values(NEEDED_NAMES).map((name) => `{{code}}: ${name}`),
];

/** Couplings and what has to go up: equipment.ts, masses.ts. */
const EQUIPMENT = [
  '{{code}} comes set for {{factory}}, the antenna works on {{polarisation}}: the task "change polarisation part" is added.',
  "Use the part in the coupler's box; keep the removed part with the site's spares.",
  "Its part is not in the box and is planned as a line; keep the removed part with the site's spares.",
  "The loss of {{code}} is not in the catalogue; it belongs to the record handed over.",
  "Enter the losses of the main and the standby port from the maker's data sheet.",
  "{{code}}, equal split: main port {{n}} dB, standby port {{m}} dB.",
  "{{code}}, unequal split: main port {{n}} dB, standby port {{m}} dB.",
  "Hand it over with the acceptance record.",
  "Heaviest lift: coupling, {{n}} kg; hand hoist is planned up to {{m}} kg.",
  "Heaviest lift: {{code}} with {{otherCode}}, {{n}} kg; hand hoist is planned up to {{m}} kg.",
  "Heaviest lift: {{code}}, {{n}} kg; hand hoist is planned up to {{m}} kg.",
  "Plan a winch and a rigger; the crew and the maker's instructions decide.",
];

/** Runs, what they lose and carry, and where they are earthed: cable.ts, runFeed.ts, runs.ts, earthing.ts. */
const RUNS = [
  "Surplus of {{n}} m does not cover {{m}} m drip loop + {{k}} m terminations.",
  "Raise the surplus to at least {{n}} m.",
  "Surplus of {{n}} m covers {{m}} m drip loop + {{k}} m terminations; {{rest}} m remain.",
  "No IF cable can be chosen: loss limit, intermediate frequencies or power are unknown for {{codes}}.",
  "Complete the ODU's catalogue item, or name the cable type in the design data.",
  "{{code}} chosen: the lightest type on which every run passes loss and DC feed.",
  "None needed. Name a type in the design data to overrule.",
  "No IF cable in the catalogue passes loss and DC feed on every run; {{code}}, the type of lowest loss, is planned.",
  "Shorten the route, raise the supply voltage or add a cable type of lower loss.",
  "Drip loop of {{n}} m is tighter than the least bend radius of {{code}}.",
  "Plan a wider drip loop.",
  "The route bends {{n}} times; {{code}} is given for {{m}}.",
  "Straighten the route or check pull and bend radius on site.",
  "{{n}} m of {{code}} hang in one stretch.",
  "Add a hoisting grip on the way and relieve the pull there.",
  "{{code}} loses {{n}} dB on {{m}} m, {{k}} dB surge arrestor included; the ODU allows {{limit}} dB.",
  "{{code}} loses {{n}} dB on {{m}} m; the ODU allows {{k}} dB.",
  "Use a cable type of lower loss or shorten the route.",
  "Loss of the IF cable cannot be checked, the catalogue lacks {{lacked}}.",
  "DC feed cannot be checked, the catalogue lacks {{lacked}}.",
  "Complete these attributes in the catalogue, from the maker's data sheet.",
  "No solution: 4 R P = {{n}} exceeds Vs^2 = {{m}} ({{code}}, {{k}} m, {{ohm}} ohm at {{degC}} degC, {{power}} W from {{supply}} V).",
  "{{n}} V at the ODU ({{code}}, {{m}} m, {{k}} ohm at {{degC}} degC, {{power}} W from {{supply}} V); it works from {{least}} V.",
  "Use a cable type of lower resistance, shorten the route or raise the supply voltage.",
  "{{n}} earthing points; the largest gap outdoors is {{m}} m.",
  "Leads run downward, at most 1 m, without a loop; local rules and the site owner's come first.",
  "No place clear of the bends keeps the spacing: straighten the route or raise the bend clearance rule with the site owner.",
  "Earthing point ({{kind}}) moved {{n}} m along the run to {{m}} m from the ODU, clear of a bend.",
  "Earthing point ({{kind}}) at {{n}} m stands nearer than {{m}} m to a bend: no clear place is left.",
  "Let the crew lead choose the place on site and record it.",
  "The section of earthing lead {{code}} is not in the catalogue.",
  "Earthing lead {{code}} has {{n}} mm2, the policy asks for {{m}} mm2.",
  "Name a thicker lead in the rule or complete the catalogue; local rules come first.",
];

/** Tape of the wraps: wraps.ts. */
const WRAPS = [
  "Tape for the wraps cannot be counted: the cable's diameter is unknown.",
  "Give the end a cable type whose catalogue item has a cable diameter.",
  "Tape for the wraps cannot be counted: the catalogue lacks {{lacked}}.",
  "Complete these attributes in the catalogue.",
  "Tape of {{codes}} or {{otherCodes}} is too wide to be lapped on {{n}} mm: its advance exceeds the circumference.",
  "Tape of {{codes}} is too wide to be lapped on {{n}} mm: its advance exceeds the circumference.",
  "Choose a narrower tape or a larger overlap.",
];

/** Words that stand in the places. */
const WORDS = [
  // Schemes that have the same antennas and ODUs.
  "1+1 hot standby or 2+0 two channels",
  ...SCHEMES,
  ...["high and low", "low and high", "high", "low"],
  ...["near ODU", "structure foot", "entry", "intermediate", "middle"],
  ...ODU_ROLES,
  ...ITEM_CATEGORIES,
  ...["cable diameter", ...Object.values(CONTENT_NAMES)],
  ...["equal", "unequal"],
];

export const CHECK_TEXTS: readonly string[] = [
  "None needed.",
  ...END,
  ...HOP,
  ...PROGRAMME,
  ...CATALOGUE,
  ...ATTRIBUTES,
  ...EQUIPMENT,
  ...RUNS,
  ...WRAPS,
  ...WORDS,
];
