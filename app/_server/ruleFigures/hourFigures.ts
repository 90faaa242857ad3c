/** Figures of the hour norms: durations in three points, people, climbing, alignment. */
import { CLASS_WORDS } from "@/app/_ui/weather/factors";
import type { HourNorms, TaskTemplate, ThreePoint } from "@/lib/hours";
import { CALIBRATE, type Spec, type SpecGroup } from "./figure";

const POINTS: readonly [keyof ThreePoint, string][] = [
  ["aMin", "optimistic"],
  ["mMin", "likely"],
  ["bMin", "pessimistic"],
];

const threePoint = (path: string, label: string, unit: string, source: string): Spec[] =>
  POINTS.map(([point, word]) => ({
    path: `${path}.${point}`,
    label: `${label}, ${word}`,
    unit,
    min: 0,
    max: 1440,
    source,
  }));

/** A driver's name as words: `connectorCount` -> "connector", `cableM` -> "m of cable". */
export function driverWords(driver: string): string {
  const words = (text: string) => text.replace(/([A-Z])/g, " $1").toLowerCase();
  if (driver.endsWith("Count")) return words(driver.slice(0, -5)).replace("odu", "ODU");
  const unit = /(M2|Kg|M)$/.exec(driver)?.[1];
  if (!unit) return words(driver).replace(/s$/, "");
  const name = words(driver.slice(0, -unit.length));
  return `${{ M2: "m2", Kg: "kg", M: "m" }[unit]} of ${name}`;
}

const PEOPLE_WORDS: Record<string, string> = {
  climber: "climber",
  rescue: "rescue-trained",
  ground: "ground hand",
  rigger: "rigger",
  technician: "radio technician",
};

export function peopleWords(t: TaskTemplate): string {
  if (t.everybody) return "everybody";
  const named = Object.entries(t.people).map(
    ([skill, n]) => `${n} ${PEOPLE_WORDS[skill] ?? skill}${n === 1 || skill === "rescue" ? "" : "s"}`,
  );
  return [...named, ...(t.wholeParty ? ["everyone aloft"] : [])].join(", ") || "whoever is free";
}

function templateGroup(list: "templates" | "alignmentTemplates", t: TaskTemplate, i: number): SpecGroup {
  const path = `${list}.${i}`;
  const each = t.repeat ? `per ${t.repeat}` : "fixed";
  return {
    id: `${list}-${i}`,
    title: t.name,
    figures: [
      ...threePoint(`${path}.fixed`, t.repeat ? `Fixed, each ${t.repeat}` : "Fixed", "min", t.source),
      ...t.per.flatMap((p, j) =>
        threePoint(`${path}.per.${j}`, `Per ${driverWords(p.driver)}`, "min", t.source),
      ),
    ],
    note: `${t.where === "both ends" ? "both ends" : t.where}, ${each}; ${peopleWords(t)}; weather limits of ${CLASS_WORDS[t.workClass]}`,
  };
}

const STRUCTURES = [
  ["lattice", "lattice tower"],
  ["mast", "guyed mast"],
  ["monopole", "monopole"],
  ["roof", "rooftop"],
] as const;

export function normGroups(norms: HourNorms): SpecGroup[] {
  const climb = (path: string, label: string, unit: string, min: number, max: number): Spec => ({
    path: `climb.${path}`,
    label,
    unit,
    min,
    max,
    source: norms.climb.source,
  });
  const joint = norms.alignment.source;
  const size = (path: string, label: string): Spec => ({
    path,
    label,
    unit: "m",
    min: 0.1,
    max: 5,
    source: joint,
  });
  const rest = (path: string, label: string, unit: string, min: number, max: number): Spec => ({
    path: `derating.${path}`,
    label,
    unit,
    min,
    max,
    source: norms.derating.source,
  });
  const rule = (path: string, label: string, unit = "", max = 10): Spec => ({
    path,
    label,
    unit,
    min: unit === "" ? 1 : 0.1,
    max,
    isWhole: unit === "",
    source: `${CALIBRATE}; the site's own rules come first`,
  });
  return [
    ...norms.templates.map((t, i) => templateGroup("templates", t, i)),
    ...norms.alignmentTemplates.map((t, i) => templateGroup("alignmentTemplates", t, i)),
    {
      id: "climb",
      title: "Climb model",
      figures: [
        ...STRUCTURES.flatMap(([key, word]) => [
          climb(`ascentMPerMin.${key}`, `Ascent, ${word}`, "m/min", 0.5, 60),
          climb(`descentMPerMin.${key}`, `Descent, ${word}`, "m/min", 0.5, 60),
        ]),
        climb("restAboveM", "Rest while climbing above", "m", 0, 300),
        climb("restMinPerM", "Rest per metre above that height", "min/m", 0, 5),
        ...threePoint("climb.kitUp", "Kit-up before each ascent", "min", norms.climb.source),
        ...threePoint("climb.restBetween", "Rest between two ascents", "min", norms.climb.source),
        climb("longestSpellMin", "Longest spell aloft", "min", 30, 600),
        climb("minWorkPerAscentMin", "Least work per ascent", "min", 5, 300),
        climb("optimisticShare", "Optimistic share of the likely time", "share", 0.1, 1),
        climb("pessimisticShare", "Pessimistic share of the likely time", "share", 1, 5),
      ],
    },
    {
      id: "alignment",
      title: "Alignment figures",
      figures: [
        size("alignment.smallDiameterM", "Small antenna, up to"),
        ...threePoint("alignment.small", "Alignment with small antennas", "min", joint),
        size("alignment.largeDiameterM", "Large antenna, from"),
        ...threePoint("alignment.large", "Alignment with large antennas", "min", joint),
        {
          path: "alignment.diversityFactor",
          label: "Factor for space diversity",
          unit: "",
          min: 1,
          max: 5,
          source: joint,
        },
        {
          path: "alignment.longestVisitMin",
          label: "Longest alignment visit, more is done in several",
          unit: "min",
          min: 120,
          max: 900,
          source: joint,
        },
      ],
    },
    {
      id: "learning",
      title: "Practice",
      figures: [
        {
          path: "learning.rate",
          label: "Each doubling of the ends done takes so much of the time",
          unit: "share",
          min: 0.7,
          max: 1,
          source: "Crawford's unit curve; 0.95 from memory, common practice: calibrate",
        },
        {
          path: "learning.floorAfterEnds",
          label: "The norm is met, and nothing more learned, after",
          unit: "ends",
          min: 1,
          max: 500,
          isWhole: true,
          source: "our own choice",
        },
        {
          path: "learning.endsBefore",
          label: "A crew is taken to have done elsewhere, of each scheme",
          unit: "ends",
          min: 0,
          max: 500,
          isWhole: true,
          source: "our own choice",
        },
      ],
    },
    {
      id: "rest",
      title: "Rest for heat and cold",
      figures: [
        ...norms.derating.heat.flatMap((_, i) => [
          rest(`heat.${i}.fromC`, `Heat, step ${i + 1}: heat index from`, "degC", -10, 60),
          rest(`heat.${i}.restMinPerH`, `Heat, step ${i + 1}: rest of each hour outdoors`, "min/h", 0, 55),
        ]),
        ...norms.derating.cold.flatMap((_, i) => [
          rest(`cold.${i}.belowC`, `Cold, step ${i + 1}: wind chill below`, "degC", -60, 20),
          rest(`cold.${i}.restMinPerH`, `Cold, step ${i + 1}: rest of each hour outdoors`, "min/h", 0, 55),
        ]),
      ],
    },
    {
      id: "site-rules",
      title: "Lift and people rules",
      figures: [
        rule("groundAssemblyMaxM", "Antenna and ODU go up as one up to", "m", 5),
        rule("winchFromKg", "Winch and rigger from", "kg", 500),
        rule("rescuersOnSite", "Rescue-trained people on site, at least"),
        rule("peopleWhileHoisting", "People while hoisting, at least"),
        { ...rule("climbersAloft", "Climbers aloft, at least"), min: 2 },
      ],
    },
  ];
}
