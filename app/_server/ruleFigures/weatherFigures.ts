/** Limits of the weather, by work class. */
import { CLASS_WORDS } from "@/app/_ui/weather/factors";
import { DEFAULT_WEATHER_POLICY, WORK_CLASSES } from "@/lib/weather";
import type { Spec, SpecGroup } from "./figure";

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

export function weatherGroups(): SpecGroup[] {
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
      title: CLASS_WORDS[c],
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
  // Not the sentences about felt temperature, which are in degC too.
  [/temperature, at least/i, /^(?!wind chill|heat index).*degC/],
];

/** The part of a class's source that speaks of this figure; "our choice" where none does. */
function partOf(source: string, label: string): string {
  const words = SOURCE_WORDS.find(([of]) => of.test(label))?.[1];
  const parts = source.split("; ");
  const found = words && parts.find((p) => words.test(p));
  return found ?? (parts.length === 1 ? source : "our choice");
}
