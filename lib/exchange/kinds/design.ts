import { phrase } from "@/lib/phrase";
import { sentences } from "@/lib/result";
import { ANTENNA_MOUNTS, ODU_ROLES, type RouteSegment, SEGMENT_KINDS } from "@/lib/site";
import { columnsOf } from "../columns";
import type { AntennaRow, RadioRow } from "../rows";
import type { Cells, ImportKind, RowFault } from "../types";
import { endSiteFaults, hopCode, OWNERS, side, siteCode } from "./ends";

const a = columnsOf<AntennaRow>();
type RouteColumn = "verticalM" | "bridgeM" | "trayM" | "indoorM" | "bends";
const r = columnsOf<RadioRow, RouteColumn>();

const label = a.text("label", "Antenna", "A1", "Label of the antenna position, unique within the end.", {
  required: true,
  aliases: ["antenna label", "antenna position", "label", "position"],
  maxLength: 40,
});

export const antennas: ImportKind<"antennas"> = {
  name: "antennas",
  title: "Antennas",
  description: "One row per antenna position of a hop's end.",
  key: ["hopCode", "side", "label"],
  references: [{ columns: ["hopCode"], kinds: ["hops"] }],
  columns: [
    hopCode,
    side,
    siteCode,
    label,
    a.measure("mountHeightM", "Mount height", "m", "42", "Height of the mount above the structure's base.", {
      required: true,
      aliases: ["height", "antenna height", "agl", "height agl"],
      above: 0,
      max: 700,
    }),
    a.measure("diameterM", "Diameter", "m", "0.6", "Diameter of the dish.", {
      required: true,
      aliases: ["dish diameter", "antenna diameter", "size", "antenna size"],
      min: 0.1,
      max: 5,
    }),
    a.list("polarisations", "Polarisation", "polarisations", "V; H", "V, H or both.", {
      required: true,
      aliases: ["polarisations", "polarization", "polarizations", "pol"],
    }),
    a.choice("mount", "Mount", "pole", "What the antenna is fixed to.", {
      aliases: ["mounting"],
      choices: ANTENNA_MOUNTS,
      choiceAliases: { leg: "face", stand: "roof stand", "roof-stand": "roof stand" },
      default: "pole",
    }),
    a.measure("bandGhz", "Band", "GHz", "18", "Frequency band.", {
      required: true,
      aliases: ["frequency band", "frequency"],
      above: 0,
      max: 200,
    }),
    a.choice("owner", "Owner", "customer", "Who owns the antenna.", { choices: OWNERS, default: "customer" }),
  ],
  checkAgainst: endSiteFaults,
};

export const radios: ImportKind<"radios"> = {
  name: "radios",
  title: "Radios",
  description: "One row per ODU: what it is, which antenna it feeds and how its cable runs.",
  key: ["hopCode", "side", "label"],
  references: [{ columns: ["hopCode", "side", "antennaLabel"], kinds: ["antennas"] }],
  columns: [
    hopCode,
    side,
    r.text("label", "Radio", "R1", "Label of the ODU, unique within the end.", {
      required: true,
      aliases: ["radio label", "odu", "odu label", "label"],
      maxLength: 40,
    }),
    r.text("antennaLabel", "Antenna", "A1", "Label of the antenna position that it feeds.", {
      required: true,
      aliases: ["antenna label", "antenna position"],
      maxLength: 40,
    }),
    r.measure("bandGhz", "Band", "GHz", "18", "Frequency band.", {
      required: true,
      aliases: ["frequency band"],
      above: 0,
      max: 200,
    }),
    r.text("subBand", "Sub-band", "B", "Sub-band as the equipment maker names it.", {
      required: true,
      aliases: ["subband", "sub band"],
      maxLength: 40,
    }),
    r.measure("duplexSpacingMhz", "Duplex spacing", "MHz", "1010", "Distance between the two halves.", {
      required: true,
      aliases: ["duplex", "t/r spacing", "tr spacing", "tx/rx spacing"],
      above: 0,
      max: 20_000,
    }),
    r.choice("half", "Transmit half", "high", "Does it transmit in the high or the low half?", {
      required: true,
      aliases: ["half", "high/low", "hi/lo", "tx half"],
      choices: ["high", "low"],
      choiceAliases: { hi: "high", h: "high", upper: "high", lo: "low", l: "low", lower: "low" },
    }),
    r.choice("polarisation", "Polarisation", "V", "V or H.", {
      required: true,
      aliases: ["polarization", "pol"],
      choices: ["V", "H"],
      choiceAliases: { vertical: "V", horizontal: "H" },
    }),
    r.choice("role", "Role", "main", "Main, standby, channel 1 or channel 2.", {
      aliases: ["odu role"],
      choices: ODU_ROLES,
      choiceAliases: { stby: "standby", protection: "standby", ch1: "channel 1", ch2: "channel 2" },
      default: "main",
    }),
    r.choice("mounting", "Mounting", "direct", "On the antenna or its coupler, or remote beside it.", {
      choices: ["direct", "remote"],
      choiceAliases: { integrated: "direct", split: "remote", pole: "remote" },
      default: "direct",
    }),
    r.choice("owner", "Owner", "customer", "Who owns the ODU.", { choices: OWNERS, default: "customer" }),
    r.measure(
      "verticalM",
      "Vertical",
      "m",
      "42",
      "Cable metres down the structure.",
      virtual(["vertical run"]),
    ),
    r.measure(
      "bridgeM",
      "Bridge",
      "m",
      "6",
      "Cable metres over the cable bridge.",
      virtual(["cable bridge"]),
    ),
    r.measure("trayM", "Tray", "m", "", "Cable metres in trays.", virtual(["cable tray"])),
    r.measure("indoorM", "Indoor", "m", "8", "Cable metres indoors.", virtual(["indoor run"])),
    r.integer("bends", "Bends", "1", "Number of segments, from the ODU on, that end in a bend.", {
      min: 0,
      max: 4,
      isVirtual: true,
    }),
    r.list(
      "route",
      "Route",
      "route",
      "",
      'Instead of the metre columns, for any other order: "vertical 42 bend; bridge 6; indoor 8".',
      { required: true, aliases: ["cable route", "segments"] },
    ),
    r.measure(
      "earthBarDistanceM",
      "Distance to earthing bar",
      "m",
      "1.5",
      "From the ODU frame to its earthing bar.",
      {
        aliases: ["earth bar distance", "earthing bar distance"],
        min: 0,
        max: 100,
        default: 2,
      },
    ),
    r.measure(
      "targetLevelDbm",
      "Target receive level",
      "dBm",
      "-41.5",
      "What the link budget promises at this ODU; blank = not given yet.",
      { aliases: ["target level", "expected receive level", "target rsl"], min: -120, max: 10 },
    ),
  ],
  fold: foldRoute,
  unfold: unfoldRoute,
};

function virtual(aliases: readonly string[]) {
  return { aliases, min: 0, max: 5000, isVirtual: true };
}

const METRES: readonly RouteColumn[] = ["verticalM", "bridgeM", "trayM", "indoorM"];

/**
 * Metre columns -> route: segments in the order vertical, bridge, tray, indoor, those of 0 m left out, the first
 * `bends` of them with a bend at their end. Any other route is written in the Route column; a row fills one form.
 */
function foldRoute(cells: Cells): { values: Record<string, unknown>; faults: RowFault[] } {
  const values: Record<string, unknown> = { ...cells };
  for (const key of [...METRES, "bends"]) delete values[key];
  const hasMetres = METRES.some((k) => cells[k] !== undefined);
  if (cells.route !== undefined) {
    if (!hasMetres && cells.bends === undefined) return { values, faults: [] };
    return {
      values,
      faults: [
        {
          key: "route",
          rule: "route-given-twice",
          ...sentences(
            phrase("The route stands both as text and in the metre columns."),
            phrase("Clear either the Route cell or the cells Vertical, Bridge, Tray, Indoor and Bends."),
          ),
        },
      ],
    };
  }
  if (!hasMetres) return { values, faults: [] };
  const bends = typeof cells.bends === "number" ? cells.bends : 0;
  const route = SEGMENT_KINDS.flatMap((kind): RouteSegment[] => {
    const lengthM = cells[`${kind}M`];
    return typeof lengthM === "number" && lengthM > 0 ? [{ kind, lengthM, bendAtEnd: false }] : [];
  }).map((segment, i) => ({ ...segment, bendAtEnd: i < bends }));
  values.route = route;
  if (bends <= route.length) return { values, faults: [] };
  return {
    values,
    faults: [
      {
        key: "bends",
        rule: "more-bends-than-segments",
        value: bends,
        ...sentences(
          phrase("{{bends}} bends do not fit {{segments}} segments: a bend stands where a segment ends.", {
            bends: String(bends),
            segments: String(route.length),
          }),
          phrase('Split the run in the Route column, e.g. "vertical 20 bend; vertical 22 bend; indoor 8".'),
        ),
      },
    ],
  };
}

/** Metre columns when they say it all, else the Route text: exactly one of the two. */
function unfoldRoute(row: RadioRow): Record<string, unknown> {
  const kinds = row.route.map((s) => SEGMENT_KINDS.indexOf(s.kind));
  const isOrdered = kinds.every((k, i) => i === 0 || k > kinds[i - 1]!);
  const bends = row.route.filter((s) => s.bendAtEnd).length;
  const bendsComeFirst = row.route.every((s, i) => s.bendAtEnd === i < bends);
  if (!isOrdered || !bendsComeFirst || row.route.length === 0) return { ...row };
  const cells: Record<string, unknown> = { ...row, route: undefined, bends };
  for (const s of row.route) cells[`${s.kind}M`] = s.lengthM;
  return cells;
}
