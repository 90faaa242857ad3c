/**
 * Whether a hop's material adds up: what went out for it = installed + returned + scrapped. Of what is opened and used up
 * bit by bit the rest stays on the vehicle and is used at other hops: parts of a unit are nobody's to look for.
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
}

export interface CloseOutLine extends HopMaterial {
  /** Above zero: gone out and not accounted for. Below: more accounted for than went out. */
  openC: number;
  /** Parts of opened units: above zero they stay on the vehicle, below they came from one opened for another hop. */
  openedC: number;
}

export interface HopCloseOut {
  hopCode: string;
  /** Lines that do not add up, the largest difference first; then those that do. */
  lines: CloseOutLine[];
  openLines: number;
}

/** What of one visit's material is open, in whole units except metres, and what is left of opened ones. */
function openOf(row: HopMaterial): Pick<CloseOutLine, "openC" | "openedC"> {
  const restC = row.issuedC - row.returnedC - row.installedC - row.scrappedC;
  const openedC = row.unit === "m" ? 0 : restC % 100;
  return { openC: restC - openedC, openedC };
}

/** Adds rows, one for each visit and item, up by hop and item; hops in order of their code. */
export function closeOut(rows: readonly HopMaterial[]): HopCloseOut[] {
  const hops = new Map<string, Map<string, CloseOutLine>>();
  for (const row of rows) {
    const items = hops.get(row.hopCode) ?? new Map<string, CloseOutLine>();
    hops.set(row.hopCode, items);
    const known = items.get(row.itemCode);
    const { openC, openedC } = openOf(row);
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
          }
        : { ...row, openC, openedC },
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
