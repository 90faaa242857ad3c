import { phrase } from "@/lib/phrase";
import { sentences } from "@/lib/result";
import { ACCEPTANCE_PROCEDURES, ALIGNMENT_PROCEDURES, SCHEMES } from "@/lib/site";
import { columnsOf } from "../columns";
import type { EndRow, HopRow } from "../rows";
import type { ImportKind } from "../types";
import { endSiteFaults, hopCode, side, siteCode } from "./ends";

const c = columnsOf<HopRow>();
const e = columnsOf<EndRow>();

/** Other spellings seen in design sheets (common practice). */
const SCHEME_ALIASES = {
  "1+1": "1+1 hot standby",
  "1+1 hsb": "1+1 hot standby",
  "1+1 hs": "1+1 hot standby",
  hsb: "1+1 hot standby",
  "1+1 sd": "1+1 space diversity",
  "2+0 dp": "2+0 dual-polar",
  "2+0 dual polar": "2+0 dual-polar",
  "2+0 dual-pol": "2+0 dual-polar",
  "2+0 xpic": "2+0 dual-polar",
  "2+0 2ch": "2+0 two channels",
  "2+0 two-channel": "2+0 two channels",
} as const;

export const hops: ImportKind<"hops"> = {
  name: "hops",
  title: "Hops",
  description: "One row per hop: its two sites, protection scheme, band, promise date and weight.",
  key: ["code"],
  references: [
    { columns: ["nearSiteCode"], kinds: ["sites"] },
    { columns: ["farSiteCode"], kinds: ["sites"] },
  ],
  columns: [
    c.text("code", "Hop", "MW-101", "Code that names the hop everywhere.", {
      required: true,
      aliases: ["hop code", "code", "link", "link id", "link code", "hop id"],
      maxLength: 60,
    }),
    c.choice("scheme", "Protection scheme", "1+0", "How the radios protect each other.", {
      required: true,
      aliases: ["scheme", "protection", "configuration"],
      choices: SCHEMES,
      choiceAliases: SCHEME_ALIASES,
    }),
    c.measure("bandGhz", "Band", "GHz", "18", "Frequency band.", {
      required: true,
      aliases: ["frequency band", "frequency"],
      above: 0,
      max: 200,
    }),
    c.text("nearSiteCode", "Near site", "KAR-014", "Code of the near end's site; blank = not known yet.", {
      isKept: true,
      aliases: ["site a", "near site code", "a site", "near end site", "from site"],
      maxLength: 60,
    }),
    c.text("farSiteCode", "Far site", "KAR-022", "Code of the far end's site; blank = not known yet.", {
      isKept: true,
      aliases: ["site b", "far site code", "b site", "site z", "z site", "far end site", "to site"],
      maxLength: 60,
    }),
    c.date("promisedOn", "Promise date", "2027-03-31", "Date promised to the customer.", {
      aliases: ["promised on", "promised", "due date", "promise"],
    }),
    c.number("weight", "Weight", "1", "Weight of a day late; 1 = ordinary.", {
      aliases: ["priority weight"],
      above: 0,
      max: 1000,
      default: 1,
    }),
    c.choice(
      "alignment",
      "Alignment",
      "both ends at once",
      "Two crews at once, or one end after the other.",
      {
        aliases: ["alignment procedure"],
        choices: ALIGNMENT_PROCEDURES,
        choiceAliases: {
          joint: "both ends at once",
          "two crews": "both ends at once",
          "one crew": "end after end",
        },
        default: "both ends at once",
      },
    ),
    c.choice(
      "acceptance",
      "Acceptance",
      "with the alignment",
      "At the end of the alignment, or on a visit of its own.",
      {
        aliases: ["acceptance procedure"],
        choices: ACCEPTANCE_PROCEDURES,
        choiceAliases: { separate: "own visit" },
        default: "with the alignment",
      },
    ),
  ],
  check: (row) =>
    row.nearSiteCode !== undefined && row.nearSiteCode === row.farSiteCode
      ? [
          {
            key: "farSiteCode",
            rule: "hop-to-itself",
            value: row.farSiteCode,
            ...sentences(
              phrase("Near and far site are the same."),
              phrase("Give the hop two different sites."),
            ),
          },
        ]
      : [],
};

/**
 * What a hop's end is when no row says otherwise. 40.5 V is the lowest voltage of the normal service range of a -48 V
 * supply in EN 300 132-2 (from memory).
 */
export const END_DEFAULTS = { worstSupplyV: 40.5, includesIduPower: false } as const;

export const ends: ImportKind<"ends"> = {
  name: "ends",
  title: "Ends",
  description: "Cable and supply of a hop's end. A hop without such a row takes the defaults.",
  key: ["hopCode", "side"],
  references: [
    { columns: ["hopCode"], kinds: ["hops"] },
    { columns: ["cableCode"], kinds: ["items"] },
  ],
  columns: [
    hopCode,
    side,
    siteCode,
    e.text("cableCode", "IF cable", "CX-400", "Catalogue code; blank = the lightest cable that passes.", {
      aliases: ["cable", "cable code", "cable type"],
      maxLength: 60,
    }),
    e.measure(
      "worstSupplyV",
      "Worst supply",
      "V",
      "40.5",
      "Supply voltage at the IDU in the worst case, magnitude.",
      {
        aliases: ["supply", "supply voltage", "worst supply voltage"],
        min: 18,
        max: 60,
        default: END_DEFAULTS.worstSupplyV,
      },
    ),
    e.yesNo(
      "includesIduPower",
      "IDU power included",
      "no",
      "Are DC cable and breaker for the IDU part of the order?",
      {
        aliases: ["includes idu power", "idu power"],
        default: END_DEFAULTS.includesIduPower,
      },
    ),
    e.measure(
      "entryHeightM",
      "Entry height",
      "m",
      "",
      "Cable entry above the base; blank = the policy's assumption.",
      {
        min: 0,
        max: 700,
      },
    ),
    e.choice(
      "couplerSplit",
      "Coupler split",
      "",
      "Hybrid coupler of the link budget; blank = the policy's choice.",
      {
        choices: ["equal", "unequal"],
      },
    ),
  ],
  checkAgainst: endSiteFaults,
};
