import { phrase } from "@/lib/phrase";
import { sentences } from "@/lib/result";
import { STRUCTURE_KINDS, TERRAIN_CATEGORIES } from "@/lib/site";
import { columnsOf } from "../columns";
import { timeOfDayText } from "../dates";
import type { SiteRow } from "../rows";
import type { ImportKind, RowFault } from "../types";
import { zoneFaults } from "./zones";

const c = columnsOf<SiteRow>();

export const sites: ImportKind<"sites"> = {
  name: "sites",
  title: "Sites",
  description: "Towers, masts, poles and roofs, with position, structure and access.",
  key: ["code"],
  references: [],
  oneSpelling: ["region"],
  columns: [
    c.text("code", "Site", "KAR-014", "Code that names the site everywhere.", {
      required: true,
      aliases: ["site code", "code", "site id"],
      maxLength: 60,
    }),
    c.text("name", "Name", "Karsten Ridge", "Name as crews know it.", {
      required: true,
      aliases: ["site name"],
    }),
    c.text("region", "Region", "North", "Region for grouping.", { aliases: ["area", "district"] }),
    c.measure("latDeg", "Latitude", "deg", "47.3812", "Degrees north, WGS 84, decimal.", {
      aliases: ["lat"],
      min: -90,
      max: 90,
    }),
    c.measure("lonDeg", "Longitude", "deg", "8.5417", "Degrees east, WGS 84, decimal.", {
      aliases: ["lon", "long", "lng"],
      min: -180,
      max: 180,
    }),
    c.measure("elevationM", "Elevation", "m", "612", "Ground above sea level.", {
      required: true,
      aliases: ["ground elevation", "amsl", "ground height", "altitude"],
      min: -430,
      max: 6000,
    }),
    c.text("zone", "Time zone", "Europe/Zurich", "IANA time zone of the site.", {
      required: true,
      aliases: ["timezone", "tz", "iana zone"],
    }),
    c.choice("structure", "Structure", "lattice", "Lattice tower, guyed mast, monopole or roof.", {
      required: true,
      aliases: ["structure type", "tower type"],
      choices: STRUCTURE_KINDS,
      choiceAliases: {
        "lattice tower": "lattice",
        tower: "lattice",
        "guyed mast": "mast",
        pole: "monopole",
        rooftop: "roof",
      },
    }),
    c.measure("structureHeightM", "Structure height", "m", "54", "Height of the structure above its base.", {
      required: true,
      aliases: ["tower height", "mast height"],
      above: 0,
      max: 700,
    }),
    c.choice("terrain", "Terrain", "II", "Terrain category of EN 1991-1-4, 0 to IV.", {
      aliases: ["terrain category"],
      choices: TERRAIN_CATEGORIES,
      choiceAliases: { "1": "I", "2": "II", "3": "III", "4": "IV" },
      default: "II",
    }),
    c.yesNo("hasEarthingBar", "Earthing bar", "yes", "Is there an earthing bar? Blank = not surveyed.", {
      aliases: ["earth bar", "has earthing bar"],
    }),
    c.list("accessWeekdays", "Access days", "weekdays", "Mon-Fri", "Weekdays on which crews may enter.", {
      aliases: ["access weekdays"],
      default: [1, 2, 3, 4, 5],
    }),
    c.time("accessFromMin", "Access from", "07:00", "Local time from which crews may enter.", {
      default: 7 * 60,
    }),
    c.time("accessToMin", "Access to", "18:00", "Local time until which crews may stay.", {
      aliases: ["access until"],
      default: 18 * 60,
    }),
    c.count("noticeDays", "Notice", "days", "2", "Days of notice the site owner wants.", {
      aliases: ["notice days", "access notice"],
      min: 0,
      max: 365,
      default: 0,
    }),
    c.yesNo("allowsTwoCrews", "Two crews allowed", "no", "May two crews work on the structure at once?", {
      aliases: ["allows two crews"],
      default: false,
    }),
  ],
  check(row) {
    const faults: RowFault[] = [];
    if ((row.latDeg === undefined) !== (row.lonDeg === undefined)) {
      faults.push({
        key: row.latDeg === undefined ? "latDeg" : "lonDeg",
        rule: "position-incomplete",
        ...sentences(
          phrase("Latitude and longitude must be given together."),
          phrase("Fill in both, or leave both blank when the position is not known."),
        ),
      });
    }
    faults.push(...zoneFaults(row.zone));
    if (row.accessToMin <= row.accessFromMin) {
      faults.push({
        key: "accessToMin",
        rule: "access-ends-before-it-begins",
        value: timeOfDayText(row.accessToMin),
        ...sentences(
          phrase("Access ends at {{end}} and begins at {{begin}}.", {
            end: timeOfDayText(row.accessToMin),
            begin: timeOfDayText(row.accessFromMin),
          }),
          phrase("Give a later end; 24:00 is the end of the day."),
        ),
      });
    }
    return faults;
  },
};
