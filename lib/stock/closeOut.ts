/**
 * Whether a hop's material adds up: what went out for it = installed + returned + scrapped. Of what is opened and used up
 * bit by bit the rest stays on the vehicle and is used at other hops: parts of a unit are nobody's to look for. Nor is the
 * whole piece that a kit took because its need was rounded up: it rides on the vehicle, where the next kits count on it.
 */

export interface HopMaterial {
  hopCode: string;
  itemCode: string;
  unit: string;
  /** Issued from a warehouse, or cut from a drum for one of its runs. */
  issuedC: number;
  returnedC: number;
  /** By the ledger; of runs what the crew reported as used. */
  installedC: number;
  /** Thrown away for the hop; of runs what was left over. */
  scrappedC: number;
  /** By the visit's kit; absent where no kit is known. */
  neededC?: number;
  /** What the kit was issued into. */
  vehicle?: string;
}

export interface CloseOutLine extends Omit<HopMaterial, "neededC" | "vehicle"> {
  /** Above zero: gone out and not accounted for. Below: more accounted for than went out. */
  openC: number;
  /** Parts of opened units: above zero they stay on the vehicle, below they came from one opened for another hop. */
  openedC: number;
  /** Whole pieces that ride on the vehicles by intent; below zero the hop used what a vehicle carried. */
  carriedC: number;
  /** Vehicles that carry them on, or carried them. */
  vehicles: readonly string[];
}

export interface HopCloseOut {
  hopCode: string;
  /** Lines that do not add up, the largest difference first; then those that do. */
  lines: CloseOutLine[];
  openLines: number;
}

type Rest = Pick<CloseOutLine, "openC" | "openedC" | "carriedC" | "vehicles">;

/** What of one visit's material is open, in whole units except metres, what is left of opened ones, and what is carried. */
function openOf(row: HopMaterial): Rest {
  const restC = row.issuedC - row.returnedC - row.installedC - row.scrappedC;
  const openedC = row.unit === "m" ? 0 : restC % 100;
  const wholeC = restC - openedC;
  const carriedC = carriedOf(row, wholeC);
  const vehicles = carriedC !== 0 && row.vehicle ? [row.vehicle] : [];
  return { openC: wholeC - carriedC, openedC, carriedC, vehicles };
}

/**
 * Of pieces with an allowance (2.1 connectors) the box holds a whole one more than is surely used, or one less where the
 * vehicle has it already (lib/programme/boxQuantities.ts). So much may be left over, or be used on top of what was issued.
 */
function carriedOf({ unit, neededC = 0, issuedC }: HopMaterial, wholeC: number): number {
  if (unit !== "piece" || neededC % 100 === 0) return 0;
  const leastC = neededC - (neededC % 100);
  const mostC = leastC + 100;
  return wholeC > 0
    ? Math.min(wholeC, Math.max(0, Math.min(issuedC, mostC) - leastC))
    : Math.max(wholeC, Math.min(0, issuedC - mostC), -100);
}

/** Adds rows, one for each visit and item, up by hop and item; hops in order of their code. */
export function closeOut(rows: readonly HopMaterial[]): HopCloseOut[] {
  const hops = new Map<string, Map<string, CloseOutLine>>();
  for (const row of rows) {
    const items = hops.get(row.hopCode) ?? new Map<string, CloseOutLine>();
    hops.set(row.hopCode, items);
    const known = items.get(row.itemCode);
    const { neededC: _, vehicle: __, ...sums } = row;
    const { openC, openedC, carriedC, vehicles } = openOf(row);
    items.set(
      row.itemCode,
      known
        ? {
            ...known,
            issuedC: known.issuedC + row.issuedC,
            returnedC: known.returnedC + row.returnedC,
            installedC: known.installedC + row.installedC,
            scrappedC: known.scrappedC + row.scrappedC,
            openC: known.openC + openC,
            openedC: known.openedC + openedC,
            carriedC: known.carriedC + carriedC,
            vehicles: [...new Set([...known.vehicles, ...vehicles])],
          }
        : { ...sums, openC, openedC, carriedC, vehicles },
    );
  }
  return [...hops]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([hopCode, items]) => {
      const lines = [...items.values()].sort(
        (a, b) => Math.abs(b.openC) - Math.abs(a.openC) || (a.itemCode < b.itemCode ? -1 : 1),
      );
      return { hopCode, lines, openLines: lines.filter((l) => l.openC !== 0).length };
    });
}
