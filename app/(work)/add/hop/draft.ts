/** What stands in the form of a hop: its own fields, and the rows of its ends, antennas, radios and gates. */

export type Cells = Readonly<Record<string, string>>;
export type Side = "near" | "far";
export type PartKind = "ends" | "antennas" | "radios" | "gates";

export interface Part {
  /** Names it within the form, and in the paths of its problems. */
  at: string;
  kind: PartKind;
  /** Absent: a gate, which says its end in a field. */
  side?: Side;
  cells: Cells;
  /** It stands in the data: its names stay. */
  isStanding: boolean;
  /** It stands and is taken out when the form is saved. */
  isOut?: boolean;
}

export interface HopDraft {
  cells: Cells;
  parts: readonly Part[];
}

export const SIDES: readonly Side[] = ["near", "far"];

/** A new hop: at each end an antenna and a radio, since most have one (common practice). */
export const emptyHop = (near = ""): HopDraft => ({
  cells: { nearSiteCode: near },
  parts: SIDES.flatMap((side) => [
    partOf("ends", side, 0, {}),
    partOf("antennas", side, 1, { label: "A1" }),
    partOf("radios", side, 1, { label: "R1", antennaLabel: "A1" }),
  ]),
});

function partOf(kind: PartKind, side: Side | undefined, no: number, cells: Cells, isStanding = false): Part {
  const at = side ? `${side}.${kind}.${no}` : `${kind}.${no}`;
  return { at, kind, ...(side && { side }), cells: side ? { ...cells, side } : cells, isStanding };
}

/** Rows that stand, as text, in the order of the data. An end without a row has the fields of one all the same. */
export function filledHop(cells: Cells, rows: Readonly<Record<PartKind, readonly Cells[]>>): HopDraft {
  const all = (["ends", "antennas", "radios"] as const).flatMap((kind) =>
    SIDES.flatMap((side) => {
      const own = rows[kind].filter((row) => row.side === side);
      if (own.length === 0 && kind === "ends") return [partOf(kind, side, 0, {})];
      return own.map((row, i) => partOf(kind, side, i + 1, row, true));
    }),
  );
  return {
    cells,
    parts: [...all, ...rows.gates.map((row, i) => partOf("gates", undefined, i + 1, row, true))],
  };
}

/** The first letters of labels, as the templates have them: A1, R1. */
const LETTER: Readonly<Record<PartKind, string>> = { ends: "", antennas: "A", radios: "R", gates: "" };

/** One more antenna or radio at an end, or one more gate, with a name that is free and the hop's band. */
export function withAnother(draft: HopDraft, kind: Exclude<PartKind, "ends">, side?: Side): HopDraft {
  const own = draft.parts.filter((p) => p.kind === kind && p.side === side);
  const no = 1 + Math.max(0, ...own.map((p) => Number(p.at.split(".").at(-1))));
  const labels = new Set(own.map((p) => p.cells.label));
  let n = own.length + 1;
  while (labels.has(`${LETTER[kind]}${n}`)) n++;
  const cells: Record<string, string> = kind === "gates" ? {} : { label: `${LETTER[kind]}${n}` };
  if (kind !== "gates") cells.bandGhz = draft.cells.bandGhz ?? "";
  const [antenna, ...others] = draft.parts.filter((p) => p.kind === "antennas" && p.side === side);
  if (kind === "radios" && antenna && others.length === 0) cells.antennaLabel = antenna.cells.label ?? "";
  return { ...draft, parts: [...draft.parts, partOf(kind, side, no, cells)] };
}

/** Something that stands, marked to be taken out or kept after all. */
export const withOut = (draft: HopDraft, at: string, isOut: boolean): HopDraft => ({
  ...draft,
  parts: draft.parts.map((p) => (p.at === at ? { ...p, isOut } : p)),
});

export const without = (draft: HopDraft, at: string): HopDraft => ({
  ...draft,
  parts: draft.parts.filter((p) => p.at !== at),
});

/** A field of the hop. Its band is that of its antennas and radios too, as far as they had the same. */
export function withHopCell(draft: HopDraft, key: string, value: string): HopDraft {
  const cells = { ...draft.cells, [key]: value };
  if (key !== "bandGhz") return { ...draft, cells };
  const before = draft.cells.bandGhz ?? "";
  return {
    cells,
    parts: draft.parts.map((p) =>
      !p.isStanding && (p.kind === "antennas" || p.kind === "radios") && (p.cells.bandGhz ?? "") === before
        ? { ...p, cells: { ...p.cells, bandGhz: value } }
        : p,
    ),
  };
}

export const withPartCell = (draft: HopDraft, at: string, key: string, value: string): HopDraft => ({
  ...draft,
  parts: draft.parts.map((p) => (p.at === at ? { ...p, cells: { ...p.cells, [key]: value } } : p)),
});

/** What hangs on the site and not on the equipment: heights, the cable's way, the level that the budget promises there. */
const OF_THE_SITE: ReadonlySet<string> = new Set([
  "mountHeightM",
  "verticalM",
  "bridgeM",
  "trayM",
  "indoorM",
  "bends",
  "route",
  "earthBarDistanceM",
  "targetLevelDbm",
]);

const OTHER_HALF: Readonly<Record<string, string>> = { high: "low", low: "high" };

/**
 * The far end of a new hop with the near end's antennas and radios, the radios with the other transmit half. What hangs
 * on the far site stays as it was typed there, label by label.
 */
export function equippedAsNear(draft: HopDraft): HopDraft {
  const isEquipment = (p: Part) => p.kind === "antennas" || p.kind === "radios";
  const far = draft.parts.filter((p) => isEquipment(p) && p.side === "far");
  const copies = draft.parts
    .filter((p) => isEquipment(p) && p.side === "near")
    .map((p) => {
      const there = far.find((f) => f.kind === p.kind && f.cells.label === p.cells.label);
      const cells = Object.entries(p.cells).map(([key, value]) => {
        if (OF_THE_SITE.has(key)) return [key, there?.cells[key] ?? ""];
        return [key, key === "half" ? (OTHER_HALF[value] ?? value) : value];
      });
      const typedThere = Object.entries(there?.cells ?? {}).filter(([key]) => OF_THE_SITE.has(key));
      const no = Number(p.at.split(".").at(-1));
      return partOf(p.kind, "far", no, Object.fromEntries([...cells, ...typedThere]));
    });
  return { ...draft, parts: [...draft.parts.filter((p) => !far.includes(p)), ...copies] };
}

/** What is sent: an end that has no site and nothing in its fields is no row. */
export const partsToSend = ({ cells, parts }: HopDraft): { kind: PartKind; at: string; cells: Cells }[] =>
  parts
    .filter((p) => {
      if (p.kind !== "ends") return !p.isOut;
      const site = cells[p.side === "near" ? "nearSiteCode" : "farSiteCode"] ?? "";
      return (
        site.trim() !== "" || Object.entries(p.cells).some(([key, v]) => key !== "side" && v.trim() !== "")
      );
    })
    .map(({ kind, at, cells: own }) => ({ kind, at, cells: own }));

/** What is sent as taken out: rows that stand, by their names. */
export const partsOut = ({
  parts,
}: HopDraft): { kind: Exclude<PartKind, "ends">; at: string; cells: Cells }[] =>
  parts.flatMap(({ kind, at, cells, isOut }) => (isOut && kind !== "ends" ? [{ kind, at, cells }] : []));

/** A value that stood and would be none: the hop's own, or that of a part. */
export interface Emptied {
  part?: Part;
  key: string;
  was: string;
}

/** Fields that held something when the form was opened and hold nothing now, without those of parts that go whole. */
export function emptied(start: HopDraft, draft: HopDraft): Emptied[] {
  const of = (before: Cells, now: Cells, part?: Part): Emptied[] =>
    Object.entries(before)
      .filter(([key, was]) => was.trim() !== "" && (now[key] ?? "").trim() === "")
      .map(([key, was]) => ({ ...(part && { part }), key, was }));
  const before = new Map(start.parts.map((p) => [p.at, p]));
  return [
    ...of(start.cells, draft.cells),
    ...draft.parts.flatMap((p) => (p.isOut ? [] : of(before.get(p.at)?.cells ?? {}, p.cells, p))),
  ];
}
