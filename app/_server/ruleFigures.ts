/** The figures of each kind of rule data, one by one: what they are, what they may be, and where they come from. */

import type { PolicyKind } from "@/db/schema";
import { type AcceptanceLimits, DEFAULT_ACCEPTANCE_LIMITS } from "@/lib/acceptance";
import { type CutPolicy, DEFAULT_CUT_POLICY } from "@/lib/drums";
import { DEFAULT_NORMS, type HourNorms, type TaskTemplate, type ThreePoint } from "@/lib/hours";
import { type Phrase, phrase } from "@/lib/phrase";
import { ok, type Problem, type Result, refused, sentences } from "@/lib/result";
import { DEFAULT_WEIGHTS, type PlanWeights } from "@/lib/schedule";
import { DEFAULT_STOCK_POLICY, type StockPolicy } from "@/lib/stock";
import { DEFAULT_POLICY, fullPolicy, POLICY_FIGURES, parsePolicy, type TakeoffPolicy } from "@/lib/takeoff";
import { DEFAULT_WEATHER_POLICY, type WeatherPolicy, WORK_CLASSES, type WorkClass } from "@/lib/weather";

export type FigureValue = number | string | boolean | null;

export interface Figure {
  /** Where it stands in the stored body, e.g. `limits.climb.windMaxMs`. */
  path: string;
  label: string;
  unit: string;
  kind: "number" | "choice" | "yes/no";
  /** For a choice: what it may be, with its words. */
  choices?: readonly { value: string; label: string }[];
  min?: number;
  max?: number;
  isWhole?: boolean;
  /** null means that there is no such limit. */
  isOptional?: boolean;
  value: FigureValue;
  delivered: FigureValue;
  source: string;
}

export interface FigureGroup {
  id: string;
  title: string;
  note?: string;
  figures: readonly Figure[];
}

const CALIBRATE = "from memory, common practice: calibrate";

type Bodies = {
  "takeoff policy": TakeoffPolicy;
  "weather limits": WeatherPolicy;
  "hour norms": HourNorms;
  "plan weights": PlanWeights;
  cutting: CutPolicy;
  stock: StockPolicy;
  "acceptance limits": AcceptanceLimits;
};

const DELIVERED: Bodies = {
  "takeoff policy": DEFAULT_POLICY,
  "weather limits": DEFAULT_WEATHER_POLICY,
  "hour norms": DEFAULT_NORMS,
  "plan weights": DEFAULT_WEIGHTS,
  cutting: DEFAULT_CUT_POLICY,
  stock: DEFAULT_STOCK_POLICY,
  "acceptance limits": DEFAULT_ACCEPTANCE_LIMITS,
};

export type FigureKind = keyof Bodies;

export const isFigureKind = (kind: PolicyKind): kind is FigureKind => Object.hasOwn(DELIVERED, kind);

/** What the product is delivered with. */
export const deliveredBody = <K extends FigureKind>(kind: K): Bodies[K] => DELIVERED[kind];

/** The value at a dotted path; undefined when there is none. */
export function valueAt(body: unknown, path: string): unknown {
  return path
    .split(".")
    .reduce<unknown>(
      (at, key) =>
        typeof at === "object" && at !== null && Object.hasOwn(at, key)
          ? (at as Record<string, unknown>)[key]
          : undefined,
      body,
    );
}

type Spec = Omit<Figure, "value" | "delivered" | "kind"> & Partial<Pick<Figure, "kind">>;

/** All figures of a kind, in groups, as they stand in `body`. */
export function figuresOf(kind: FigureKind, body: unknown): FigureGroup[] {
  const delivered = DELIVERED[kind];
  const full = fullBody(kind, body);
  return groupsOf(kind, full).map(({ figures, ...group }) => ({
    ...group,
    figures: figures.map((f) => {
      const asDelivered = (valueAt(delivered, f.path) ?? null) as FigureValue;
      return {
        kind: "number" as const,
        ...f,
        value: (valueAt(full, f.path) ?? null) as FigureValue,
        delivered: asDelivered,
        source: asDelivered === null ? "delivered without such a limit" : f.source,
      };
    }),
  }));
}

/** A version that was stored before a figure existed takes the figure's default. */
function fullBody(kind: FigureKind, body: unknown): unknown {
  if (kind === "takeoff policy") return fullPolicy(body as TakeoffPolicy);
  return kind === "stock" ? { ...DEFAULT_STOCK_POLICY, ...(body as Partial<StockPolicy>) } : body;
}

type SpecGroup = Omit<FigureGroup, "figures"> & { figures: Spec[] };

function groupsOf(kind: FigureKind, body: unknown): SpecGroup[] {
  switch (kind) {
    case "takeoff policy":
      return takeoffGroups();
    case "weather limits":
      return weatherGroups();
    case "hour norms":
      return normGroups(body as HourNorms);
    case "plan weights":
      return [{ id: "weights", title: "Plan weights", figures: WEIGHTS }];
    case "cutting":
      return [{ id: "cutting", title: "Cutting policy", figures: CUTTING }];
    case "stock":
      return STOCK_GROUPS.map((g) => ({ ...g, figures: [...g.figures] }));
    case "acceptance limits":
      return [{ id: "acceptance", title: "Acceptance limits", figures: ACCEPTANCE }];
  }
}

/* Take-off policy */

const TAKEOFF_GROUPS: readonly [string, string, readonly (keyof typeof POLICY_FIGURES)[]][] = [
  [
    "cable",
    "IF cable and connectors",
    [
      "surplusM",
      "cutStepM",
      "dripLoopDiameterM",
      "terminationM",
      "connectorLoss",
      "entryHeightM",
      "conductorMaxTempC",
      "lossOfSurgeArrestorDb",
      "couplerSplit",
    ],
  ],
  [
    "earthing",
    "Earthing",
    [
      "maxEarthingSpacingM",
      "shortRunM",
      "minEarthingPoints",
      "bendClearanceM",
      "minEarthingSectionMm2",
      "nearOduM",
      "beforeEntryM",
    ],
  ],
  [
    "fixing",
    "Fixing",
    [
      "tiesOrHangers",
      "hangerSpacingM",
      "tieLoss",
      "tiesPerOutdoorM",
      "tiesPerIndoorM",
      "tiesPerDripLoop",
      "tiesPerEarthingPoint",
      "tiesPerWrap",
    ],
  ],
  [
    "tape",
    "Weatherproofing",
    [
      "tapeWidthRatio",
      "tapeOverlap",
      "tapeBeyondMm",
      "tapeEndLossMm",
      "wrapLengthMm",
      "pvcWidthRatio",
      "wrapDiameterAddMm",
      "wrapsEntry",
    ],
  ],
  [
    "checks",
    "Hoisting and checks",
    ["handHoistMaxKg", "diversityMinM", "diversityMaxM", "hopMinM", "hopMaxKm"],
  ],
];

const CHOICES: Record<string, readonly { value: string; label: string }[]> = {
  tiesOrHangers: [
    { value: "ties", label: "ties" },
    { value: "hangers", label: "cable hangers" },
  ],
  couplerSplit: [
    { value: "equal", label: "equal split" },
    { value: "unequal", label: "unequal split" },
  ],
};

function takeoffGroups(): SpecGroup[] {
  return TAKEOFF_GROUPS.map(([id, title, names]) => ({
    id,
    title,
    figures: names.map((name): Spec => {
      const { label, unit, source } = POLICY_FIGURES[name];
      const choices = CHOICES[name];
      const kind = choices ? "choice" : typeof DEFAULT_POLICY[name] === "boolean" ? "yes/no" : "number";
      return { path: name, label, unit, source, kind, choices };
    }),
  }));
}

/* Weather limits */

const CLASS_TITLES: Readonly<Record<WorkClass, string>> = {
  climb: "Climb",
  hoist: "Hoist antenna",
  aloft: "Aloft, general",
  "open connection": "Open connection and weatherproofing",
  ground: "Ground, outdoors",
  indoor: "Indoor",
  alignment: "Alignment",
};

const CLASS_FIGURES: readonly Omit<Spec, "source">[] = [
  { path: "windMaxMs", label: "Mean wind at the mount, at most", unit: "m/s", min: 0, max: 40 },
  { path: "gustMaxMs", label: "Gust at the mount, at most", unit: "m/s", min: 0, max: 60 },
  { path: "rainMaxMmH", label: "Rain, at most", unit: "mm/h", min: 0, max: 50 },
  { path: "dryHoursBefore", label: "Dry hours before", unit: "h", min: 0, max: 72, isWhole: true },
  { path: "tempMinC", label: "Temperature, at least", unit: "degC", min: -60, max: 40 },
  { path: "tempMaxC", label: "Temperature, at most", unit: "degC", min: -20, max: 60 },
  { path: "windChillMinC", label: "Wind chill, at least", unit: "degC", min: -60, max: 20 },
  { path: "heatIndexMaxC", label: "Heat index, at most", unit: "degC", min: 0, max: 60 },
  {
    path: "rainAboveGhz",
    label: "The rain limit holds above this carrier",
    unit: "GHz",
    min: 0,
    max: 100,
  },
  { path: "rainMaxBelowMmH", label: "Rain below that carrier, at most", unit: "mm/h", min: 0, max: 50 },
];

const CLASS_FLAGS: readonly Omit<Spec, "source">[] = [
  { path: "needsDaylight", label: "Needs daylight", unit: "", kind: "yes/no" },
  { path: "stopsForThunder", label: "Stops for thunder", unit: "", kind: "yes/no" },
  { path: "stopsForIcing", label: "Stops for icing", unit: "", kind: "yes/no" },
];

const WEATHER_SHARED: readonly Spec[] = [
  {
    path: "thunderWaitH",
    label: "Wait after the last thunder",
    unit: "h",
    min: 0,
    max: 24,
    source: "30-30 rule, read in public text",
  },
  {
    path: "tagLineForceN",
    label: "Force on the tag line, two people",
    unit: "N",
    min: 1,
    max: 2000,
    source: "from memory, common practice",
  },
  {
    path: "icingMemoryH",
    label: "Wet steel counts as iced for",
    unit: "h",
    min: 0,
    max: 72,
    isWhole: true,
    source: "our choice",
  },
  {
    path: "daylight",
    label: "What counts as daylight",
    unit: "",
    kind: "choice",
    choices: [
      { value: "civil", label: "civil twilight" },
      { value: "sun up", label: "sun above the horizon" },
    ],
    source: "our choice",
  },
  {
    path: "daylightMarginMin",
    label: "Taken off both ends of daylight",
    unit: "min",
    min: 0,
    max: 180,
    source: "our choice",
  },
  {
    path: "placeRadiusKm",
    label: "A site uses weather places within",
    unit: "km",
    min: 1,
    max: 500,
    source: "our choice",
  },
  {
    path: "windProfile",
    label: "Wind at height by",
    unit: "",
    kind: "choice",
    choices: [
      { value: "log", label: "log law and terrain" },
      { value: "power", label: "power law" },
    ],
    source: "our choice",
  },
  {
    path: "powerExponent",
    label: "Exponent of the power law",
    unit: "",
    min: 0,
    max: 1,
    source: "IEC 61400-1 normal wind profile on land, second hand",
  },
  {
    path: "lapseRateKPerKm",
    label: "Temperature change with elevation",
    unit: "K/km",
    min: -12,
    max: 0,
    source: "ISO 2533 standard atmosphere, from memory",
  },
  {
    path: "dragCoefficient",
    label: "Drag coefficient of a dish",
    unit: "",
    min: 0.1,
    max: 3,
    source: "flat disc, from memory",
  },
  {
    path: "airDensityKgM3",
    label: "Density of air",
    unit: "kg/m3",
    min: 0.5,
    max: 1.6,
    source: "sea level, ISO 2533, from memory",
  },
];

function weatherGroups(): SpecGroup[] {
  const classes = WORK_CLASSES.map((c): SpecGroup => {
    const { source } = DEFAULT_WEATHER_POLICY.limits[c];
    const onPath = (f: Omit<Spec, "source">): Spec => ({
      ...f,
      path: `limits.${c}.${f.path}`,
      source: partOf(source, f.label),
      isOptional: f.kind !== "yes/no",
    });
    const figures = CLASS_FIGURES.filter((f) => c === "alignment" || !f.path.match(/^rain(Above|MaxBelow)/));
    return {
      id: c.replaceAll(" ", "-"),
      title: CLASS_TITLES[c],
      note: `Delivered figures: ${source}.`,
      figures: [...figures, ...CLASS_FLAGS].map(onPath),
    };
  });
  return [...classes, { id: "shared", title: "For every work class", figures: [...WEATHER_SHARED] }];
}

const SOURCE_WORDS: readonly [RegExp, RegExp][] = [
  [/mean wind/i, /^mean |strong wind/],
  [/gust/i, /gust/],
  [/rain|dry/i, /rain|dry/],
  [/wind chill/i, /wind chill/],
  [/heat index/i, /heat index/],
  [/thunder/i, /thunder/],
  [/temperature/i, /degC/],
];

/** The part of a class's source that speaks of this figure; "our choice" where none does. */
function partOf(source: string, label: string): string {
  const words = SOURCE_WORDS.find(([of]) => of.test(label))?.[1];
  const parts = source.split("; ");
  const found = words && parts.find((p) => words.test(p));
  return found ?? (parts.length === 1 ? source : "our choice");
}

/* Hour norms */

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
    note: `${t.where === "both ends" ? "both ends" : t.where}, ${each}; ${peopleWords(t)}; weather limits of ${t.workClass}`,
  };
}

const STRUCTURES = [
  ["lattice", "lattice tower"],
  ["mast", "guyed mast"],
  ["monopole", "monopole"],
  ["roof", "rooftop"],
] as const;

function normGroups(norms: HourNorms): SpecGroup[] {
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

/* Plan weights and cutting */

const weight = (path: keyof PlanWeights, label: string, unit: string): Spec => ({
  path,
  label,
  unit,
  min: 0,
  max: 10_000_000,
  source: "order: common practice; size: this project's choice",
});

const WEIGHTS: Spec[] = [
  weight("unplacedVisit", "Visit not placed", "per visit"),
  weight("lateHopDay", "Hop late against its promise", "per day"),
  weight("unfinishedHop", "Hop not finished in the plan", "per hop"),
  weight("crewDay", "Crew on the road", "per crew and day"),
  weight("overtimeMin", "Overtime", "per min"),
  weight("nightAway", "Night away", "per crew and night"),
  weight("openEndDay", "Hop stands open between its two ends and alignment", "per day"),
  weight("travelKm", "Distance", "per km"),
  weight("travelMin", "Driving", "per min"),
  weight("movedVisit", "Visit moved against the plan in force", "per visit"),
  weight("movedDay", "Days that a visit moves", "per day"),
  weight("riskMin", "Time that past weather adds", "per min"),
  weight("imbalanceMin", "Crews unevenly loaded", "per min"),
  weight("finishDay", "Hop finishes later in the plan", "per day"),
];

const CUTTING: Spec[] = [
  {
    path: "sawAllowanceCm",
    label: "Lost at each cut",
    unit: "cm",
    min: 0,
    max: 500,
    isWhole: true,
    source: "from memory",
  },
  {
    path: "minUsefulCm",
    label: "A remnant below this is scrap",
    unit: "cm",
    min: 0,
    max: 20_000,
    isWhole: true,
    source: "from memory",
  },
];

/* The store */

const STOCK_GROUPS: readonly SpecGroup[] = [
  {
    id: "warehouses",
    title: "Warehouses and transfers",
    figures: [
      {
        path: "kitsFrom",
        label: "A kit is picked from",
        unit: "",
        kind: "choice",
        choices: [
          { value: "crew depot", label: "the warehouse its crew starts from" },
          { value: "nearest warehouse", label: "the warehouse nearest its site" },
        ],
        source: "our choice",
      },
      {
        path: "transfersAllowed",
        label: "Send stock from one warehouse to another",
        unit: "",
        kind: "yes/no",
        source: "our choice",
      },
      {
        path: "transferHandlingDays",
        label: "A transfer takes at least",
        unit: "days",
        min: 0,
        max: 30,
        isWhole: true,
        source: CALIBRATE,
      },
      {
        path: "transferKmPerDay",
        label: "Road that a transfer covers in a day",
        unit: "km",
        min: 10,
        max: 2000,
        source: CALIBRATE,
      },
      {
        path: "transferCoverDays",
        label: "A transfer brings what is short within",
        unit: "days",
        min: 1,
        max: 90,
        isWhole: true,
        source: "our choice",
      },
    ],
  },
  {
    id: "orders",
    title: "What orders and stock cost",
    note: "For the lot rules that weigh costs, where an item has no figure of its own.",
    figures: [
      {
        path: "orderCostMinor",
        label: "Placing an order costs",
        unit: "minor units of the item's currency",
        min: 0,
        max: 100_000_000,
        isWhole: true,
        source: CALIBRATE,
      },
      {
        path: "holdingSharePerYear",
        label: "A year on the shelf costs, of the price",
        unit: "share",
        min: 0,
        max: 2,
        source: CALIBRATE,
      },
    ],
  },
  {
    id: "safety",
    title: "Safety stock from measurement",
    figures: [
      {
        path: "serviceLevel",
        label: "No shortage in a lead time, in so many cases",
        unit: "share",
        min: 0.5,
        max: 0.9999,
        source: CALIBRATE,
      },
      {
        path: "useWeeks",
        label: "Use is measured over the last",
        unit: "whole weeks",
        min: 4,
        max: 156,
        isWhole: true,
        source: "our choice",
      },
    ],
  },
  {
    id: "spares",
    title: "Spares of radio variants",
    figures: [
      {
        path: "spareLevel",
        label: "Spares last until the repair is back, in so many cases; 0 = keep none by rule",
        unit: "share",
        min: 0,
        max: 0.9999,
        source: CALIBRATE,
      },
      {
        path: "repairDays",
        label: "A dead unit is back or exchanged after",
        unit: "whole days",
        min: 1,
        max: 730,
        isWhole: true,
        source: CALIBRATE,
      },
      {
        path: "deadShare",
        label: "New units dead on arrival, until the records say more",
        unit: "share",
        min: 0,
        max: 1,
        source: CALIBRATE,
      },
      {
        path: "failuresPerYear",
        label: "Units in service that fail in a year, until the records say more",
        unit: "share",
        min: 0,
        max: 5,
        source: CALIBRATE,
      },
    ],
  },
];

const READING_SOURCE = "from memory, common practice: the customer's procedure comes first";

const ACCEPTANCE: Spec[] = [
  {
    path: "levelToleranceDb",
    label: "Receive level off its target, at most",
    unit: "dB",
    min: 0.1,
    max: 20,
    source: READING_SOURCE,
  },
  {
    path: "crossPolarMinDb",
    label: "Cross-polar discrimination, at least",
    unit: "dB",
    min: 5,
    max: 60,
    source: READING_SOURCE,
  },
  {
    path: "earthMaxOhm",
    label: "Earth resistance, at most",
    unit: "ohm",
    min: 0.1,
    max: 1000,
    source: READING_SOURCE,
  },
  { path: "errorRunH", label: "Error run", unit: "h", min: 0.25, max: 720, source: READING_SOURCE },
  {
    path: "errorRunMaxS",
    label: "Errored seconds in the error run, at most",
    unit: "s",
    min: 0,
    max: 10_000,
    isWhole: true,
    source: READING_SOURCE,
  },
];

/* Changing them */

const bad = (
  group: FigureGroup,
  f: Figure,
  value: unknown,
  rule: string,
  message: Phrase,
  remedy: Phrase,
): Problem => ({
  path: `${group.title}: ${f.label}`,
  rule,
  value: value ?? "",
  ...sentences(message, remedy),
});

function problemOf(group: FigureGroup, f: Figure, value: FigureValue): Problem | undefined {
  const of = (figure: number) => (f.unit ? `${figure} ${f.unit}` : String(figure));
  const is = (rule: string, message: Phrase, remedy: Phrase) => bad(group, f, value, rule, message, remedy);
  if (value === null)
    return f.isOptional
      ? undefined
      : is("figure-missing", phrase("A figure is missing."), phrase("Enter a figure."));
  if (f.kind === "yes/no")
    return typeof value === "boolean"
      ? undefined
      : is("figure-kind", phrase("Not yes or no."), phrase("Choose yes or no."));
  if (f.kind === "choice") {
    if (f.choices?.some((c) => c.value === value)) return undefined;
    const names = f.choices?.map((c) => c.label).join(" or ") ?? "";
    return is("figure-kind", phrase("Not one of the choices."), phrase("Choose {{names}}.", { names }));
  }
  if (typeof value !== "number" || !Number.isFinite(value))
    return is("figure-kind", phrase("Not a number."), phrase("Enter a number."));
  if (f.isWhole && !Number.isInteger(value))
    return is(
      "figure-whole",
      phrase("{{figure}} is not a whole number.", { figure: of(value) }),
      phrase("Enter a whole number."),
    );
  if (f.min !== undefined && value < f.min)
    return is(
      "figure-low",
      phrase("{{figure}} is below {{least}}.", { figure: of(value), least: of(f.min) }),
      phrase("Enter {{least}} or more.", { least: of(f.min) }),
    );
  if (f.max !== undefined && value > f.max)
    return is(
      "figure-high",
      phrase("{{figure}} is above {{most}}.", { figure: of(value), most: of(f.max) }),
      phrase("Enter {{most}} or less.", { most: of(f.max) }),
    );
  return undefined;
}

/** The body with the figures changed; refused with everything that is wrong with them. */
export function changeFigures(
  kind: FigureKind,
  body: unknown,
  changes: readonly { path: string; value: FigureValue }[],
): Result<unknown> {
  const groups = figuresOf(kind, body);
  const known = new Map(groups.flatMap((g) => g.figures.map((f) => [f.path, { g, f }] as const)));
  const problems: Problem[] = [];
  const changed = structuredClone(fullBody(kind, body)) as Record<string, unknown>;
  for (const { path, value } of changes) {
    const found = known.get(path);
    const problem = found
      ? problemOf(found.g, found.f, value)
      : {
          path,
          rule: "figure-unknown",
          value,
          ...sentences(
            phrase("There is no such figure."),
            phrase("Reload the page; another version may be in force."),
          ),
        };
    if (problem) problems.push(problem);
    else setAt(changed, path, value);
  }
  problems.push(...ordered(kind, changed));
  if (problems.length > 0) return refused(...problems);
  if (kind === "takeoff policy") return labelled(parsePolicy({ ...changed, version: 1 }));
  return ok(changed);
}

/** Field names as the screen says them. */
function labelled<T>(result: Result<T>): Result<T> {
  if (result.ok) return result;
  const names = POLICY_FIGURES as Record<string, { label: string } | undefined>;
  return refused(...result.problems.map((p) => ({ ...p, path: names[p.path]?.label ?? p.path })));
}

function setAt(body: Record<string, unknown>, path: string, value: FigureValue): void {
  const keys = path.split(".");
  const last = keys.pop()!;
  const at = keys.reduce<Record<string, unknown>>((o, k) => o[k] as Record<string, unknown>, body);
  if (value === null) delete at[last];
  else at[last] = value;
}

/** Figures that must stand in order among themselves. */
function ordered(kind: FigureKind, body: unknown): Problem[] {
  const problems: Problem[] = [];
  const note = (path: string, value: string, message: Phrase, remedy: Phrase) =>
    problems.push({ path, rule: "figure-order", value, ...sentences(message, remedy) });
  if (kind === "hour norms") {
    const points = figuresOf(kind, body).flatMap((g) =>
      g.figures.filter((f) => f.path.endsWith(".aMin")).map((f) => ({ g, f })),
    );
    for (const { g, f } of points) {
      const { aMin, mMin, bMin } = valueAt(body, f.path.slice(0, -5)) as ThreePoint;
      if (aMin <= mMin && mMin <= bMin) continue;
      note(
        `${g.title}: ${f.label.replace(/, optimistic$/, "")}`,
        `${aMin} / ${mMin} / ${bMin} min`,
        phrase("Optimistic, likely and pessimistic do not stand in order."),
        phrase("Enter figures that rise from optimistic to pessimistic."),
      );
    }
    const { smallDiameterM, largeDiameterM } = (body as HourNorms).alignment;
    if (smallDiameterM >= largeDiameterM)
      note(
        "Alignment figures: Large antenna, from",
        `${largeDiameterM} m`,
        phrase("It is not above the small antenna's {{least}} m.", { least: String(smallDiameterM) }),
        phrase("Enter more than {{least}} m.", { least: String(smallDiameterM) }),
      );
  }
  if (kind === "takeoff policy") {
    const p = body as TakeoffPolicy;
    if ((p.diversityMinM ?? 0) > (p.diversityMaxM ?? Number.POSITIVE_INFINITY))
      note(
        POLICY_FIGURES.diversityMaxM.label,
        `${p.diversityMaxM} m`,
        phrase("It is below the least height difference of {{least}} m.", { least: String(p.diversityMinM) }),
        phrase("Enter {{least}} or more.", { least: `${p.diversityMinM} m` }),
      );
  }
  if (kind === "weather limits") {
    for (const c of WORK_CLASSES) {
      const { tempMinC, tempMaxC } = (body as WeatherPolicy).limits[c];
      if (tempMinC !== undefined && tempMaxC !== undefined && tempMinC > tempMaxC)
        note(
          `${CLASS_TITLES[c]}: Temperature, at most`,
          `${tempMaxC} degC`,
          phrase("It is below the least temperature of {{least}} degC.", { least: String(tempMinC) }),
          phrase("Enter {{least}} or more.", { least: `${tempMinC} degC` }),
        );
    }
  }
  return problems;
}
