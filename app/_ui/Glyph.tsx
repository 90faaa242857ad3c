/**
 * The signs of the product, drawn on a 16 x 16 field with one stroke weight.
 * A sign never stands alone for a meaning: a word is beside it or in `label`.
 */
const PATHS = {
  // states
  pass: "M2.5 8.5l3.5 3.5 7.5-8.5",
  warn: "M8 2L15 14H1zM8 6.5v3.5M8 12v.1",
  fail: "M5 1.5h6L14.5 5v6L11 14.5H5L1.5 11V5zM5.5 5.5l5 5M10.5 5.5l-5 5",
  late: "M8 1.5a6.5 6.5 0 1 0 .01 0M8 4.5V8l2.5 2",
  hold: "M5 3v10M11 3v10",
  open: "M8 2.5a5.5 5.5 0 1 0 .01 0",
  dated: "M2 3.5h12v10.5H2zM2 7h12M5 1.5v3.5M11 1.5v3.5",
  met: "M8 1.5a6.5 6.5 0 1 0 .01 0M5 8.2l2.2 2.2L11.2 6",
  doing: "M8 1.5a6.5 6.5 0 1 0 .01 0M8 1.5v13M8 4.5h3.4M8 8h6M8 11.5h3.4",
  planned: "M1.5 8h2M5.5 8h2M9.5 8h2M13.5 8h1M1.5 5v6M14.5 5v6",
  unplaced:
    "M2.5 2.5h2.5M7 2.5h2.5M11.5 2.5h2v2.5M13.5 7v2.5M13.5 11.5v2h-2.5M9 13.5H6.5M4.5 13.5h-2V11M2.5 9V6.5M2.5 4.5v-2",
  pinned: "M5.5 1.5h5l-.8 5 2.3 2.5H4l2.3-2.5zM8 9v5.5",
  none: "M4 8h8",
  info: "M8 1.5a6.5 6.5 0 1 0 .01 0M8 7.5v4M8 4.6v.1",
  locked: "M3.5 7h9v7h-9zM5.5 7V5a2.5 2.5 0 0 1 5 0v2",
  // kinds of visit
  install:
    "M3 2.5c5 .5 8.5 4 9 9M3 2.5c-.8 3.5.5 6.5 2.5 8.5M12 11.5c-3 .8-5 .5-6.5-.5M7.5 7l2.5-2.5M5.5 11v3.5M3 14.5h5",
  alignment:
    "M2 4c2.5 1.5 2.5 6.5 0 8M14 4c-2.5 1.5-2.5 6.5 0 8M5.5 8h5M7 6.5L5.5 8 7 9.5M9 6.5L10.5 8 9 9.5",
  acceptance: "M3 2.5h10v12H3zM6 1.5h4v2.5H6zM5.5 9l2 2L11 7",
  revisit: "M13 8a5 5 0 1 1-1.6-3.7M13 1.5v3.3H9.7",
  // weather
  wind: "M1.5 6h7.5a2 2 0 1 0-2-2M1.5 9h11a2 2 0 1 1-2 2M1.5 12h5",
  gust: "M1.5 5h8a2 2 0 1 0-2-2M1.5 8h13M1.5 11h9a2 2 0 1 1-2 2M12 5h2.5",
  rain: "M4 9.5a3 3 0 0 1 0-6 4 4 0 0 1 7.5 1 2.5 2.5 0 0 1 .5 5zM5 11.5l-1 3M8.5 11.5l-1 3M12 11.5l-1 3",
  dry: "M8 1.5c3 4 4.5 6 4.5 8.5a4.5 4.5 0 0 1-9 0C3.5 7.5 5 5.5 8 1.5zM8 9v3.5h2.5",
  temperature: "M6.5 9.5V3a1.5 1.5 0 0 1 3 0v6.5a3 3 0 1 1-3 0zM8 6v5.5",
  chill: "M8 1.5v13M2.4 4.7l11.2 6.6M13.6 4.7L2.4 11.3M6 2.5l2 2 2-2M6 13.5l2-2 2 2",
  heat: "M8 5a3 3 0 1 0 .01 0M8 1v1.5M8 13.5V15M1 8h1.5M13.5 8H15M3 3l1 1M12 12l1 1M13 3l-1 1M4 12l-1 1",
  dark: "M13 9.5A5.5 5.5 0 1 1 6.5 3a4.5 4.5 0 0 0 6.5 6.5z",
  thunder: "M9.5 1L4 9h4l-1.5 6L12.5 6.5h-4z",
  icing: "M8 1.5v13M2.4 4.7l11.2 6.6M13.6 4.7L2.4 11.3",
  "no-data": "M5.5 5.5a2.5 2.5 0 1 1 3.5 2.3c-.7.4-1 .8-1 1.7M8 12v.1",
  // actions
  "people-short": "M6 2.2a2.7 2.7 0 1 0 .01 0M1.2 14c0-3 2.1-4.6 4.8-4.6s4.8 1.6 4.8 4.6M10.8 5h4",
  search: "M7 2a5 5 0 1 0 .01 0M10.7 10.7l3.8 3.8",
  close: "M3 3l10 10M13 3L3 13",
  more: "M2.5 4h11M2.5 8h11M2.5 12h11",
  next: "M6 3l5 5-5 5",
  back: "M10 3L5 8l5 5",
  down: "M3 6l5 5 5-5",
  up: "M3 10l5-5 5 5",
  sort: "M5 3v10M2.5 10.5L5 13l2.5-2.5M11 13V3M8.5 5.5L11 3l2.5 2.5",
  filter: "M1.5 3h13l-5 6v5l-3-1.5V9z",
  columns: "M2 2.5h12v11H2zM6 2.5v11M10 2.5v11",
  export: "M8 1.5v8.5M4.5 6.5L8 10l3.5-3.5M2.5 11v3h11v-3",
  import: "M8 10V1.5M4.5 5L8 1.5 11.5 5M2.5 11v3h11v-3",
  group: "M2 3h6M4.5 6.5h9.5M4.5 9.5h9.5M2 13h6",
  undo: "M6 2.5L2.5 6 6 9.5M2.5 6H10a3.75 3.75 0 0 1 0 7.5H6",
  redo: "M10 2.5L13.5 6 10 9.5M13.5 6H6a3.75 3.75 0 0 0 0 7.5h4",
  plus: "M8 2.5v11M2.5 8h11",
  minus: "M2.5 8h11",
  keyboard: "M1.5 4h13v8.5h-13zM4 7h.1M6.7 7h.1M9.3 7h.1M12 7h.1M4.5 10h7",
  print: "M4 6V2h8v4M4 12H2V6h12v6h-2M4 10h8v4.5H4z",
  // places
  programme: "M2 14V9M6 14V5M10 14V7.5M14 14V2M1 14.5h14",
  sites: "M8 15S3 9.8 3 6.2a5 5 0 0 1 10 0C13 9.8 8 15 8 15zM8 4.6a1.7 1.7 0 1 0 .01 0",
  map: "M1.5 3.5l4.3-1.5 4.4 2 4.3-1.5v10L10.2 14l-4.4-2-4.3 1.5zM5.8 2v10M10.2 4v10",
  plan: "M1.5 3h13M1.5 8h13M1.5 13h13M3 2v2h5V2zM7 7v2h6V7zM4 12v2h4v-2z",
  weather: "M1.5 6h7.5a2 2 0 1 0-2-2M1.5 9h11a2 2 0 1 1-2 2M1.5 12h5",
  stock: "M4 2.5v11M12 2.5v11M2 2.5h4M10 2.5h4M2 13.5h4M10 13.5h4M4 5h8M4 8h8M4 11h8",
  kits: "M2 6h12v8H2zM5.5 6V3h5v3M2 9.5h12M7 9v2h2V9",
  week: "M2 3.5h12v10.5H2zM2 7h12M5 1.5v3.5M11 1.5v3.5M5 10h2M9 10h2",
  rules: "M3 13L13 3M2 11.5L4.5 14 14 4.5 11.5 2zM6.5 7l1 1M8.5 5l1 1M4.5 9l1 1",
} as const;

export type GlyphName = keyof typeof PATHS;

/** The sign's lines on its 16 x 16 field, for a canvas. */
export const glyphLines = (name: GlyphName): string => PATHS[name];

/** What the numbers of a path's command are, in turn: across, down, a length, or (-) something that has no size. */
const NUMBERS: Readonly<Record<string, string>> = {
  M: "xy",
  L: "xy",
  C: "xyxyxy",
  H: "x",
  V: "y",
  A: "ll---xy",
};

/**
 * The sign's lines on a field `sizePx` wide whose corner is at `xPx`, `yPx`. Many signs in one drawing then need no
 * element and no transform of their own, which is what they cost a browser.
 */
export function glyphLinesAt(name: GlyphName, xPx: number, yPx: number, sizePx: number): string {
  const scale = sizePx / 16;
  return PATHS[name].replace(/([a-z])([^a-z]*)/gi, (whole, command: string, numbers: string) => {
    const kinds = NUMBERS[command.toUpperCase()];
    if (!kinds) return whole;
    const isPlace = command === command.toUpperCase();
    const placed = [...numbers.matchAll(/-?(?:\d+\.?\d*|\.\d+)/g)].map(([text], at) => {
      const kind = kinds[at % kinds.length];
      if (kind === "-") return text;
      const from = !isPlace || kind === "l" ? 0 : kind === "x" ? xPx : yPx;
      return Number((from + Number(text) * scale).toFixed(2));
    });
    return command + placed.join(" ");
  });
}

export interface GlyphProps {
  name: GlyphName;
  /** Spoken name. Leave out when a word stands beside the sign. */
  label?: string;
  className?: string;
}

/** One sign, as large as the text around it (set `font-size` to change it), in the text's colour. */
export function Glyph({ name, label, className }: GlyphProps) {
  return (
    <svg
      viewBox="0 0 16 16"
      className={className ? `ui-glyph ${className}` : "ui-glyph"}
      fill="none"
      stroke="currentColor"
      strokeWidth="1.6"
      strokeLinecap="round"
      strokeLinejoin="round"
      role={label ? "img" : undefined}
      aria-label={label}
      aria-hidden={label ? undefined : true}
    >
      <path d={PATHS[name]} />
    </svg>
  );
}
