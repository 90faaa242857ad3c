/** Whether a hop's material adds up: what went out for it = installed + returned + scrapped. */

export interface HopMaterial {
  hopCode: string;
  itemCode: string;
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
}

export interface HopCloseOut {
  hopCode: string;
  /** Lines that do not add up, the largest difference first; then those that do. */
  lines: CloseOutLine[];
  openLines: number;
}

/** Adds rows up by hop and item, hops in order of their code. */
export function closeOut(rows: readonly HopMaterial[]): HopCloseOut[] {
  const hops = new Map<string, Map<string, HopMaterial>>();
  for (const row of rows) {
    const items = hops.get(row.hopCode) ?? new Map<string, HopMaterial>();
    hops.set(row.hopCode, items);
    const known = items.get(row.itemCode);
    items.set(
      row.itemCode,
      known
        ? {
            ...known,
            issuedC: known.issuedC + row.issuedC,
            returnedC: known.returnedC + row.returnedC,
            installedC: known.installedC + row.installedC,
            scrappedC: known.scrappedC + row.scrappedC,
          }
        : row,
    );
  }
  return [...hops]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([hopCode, items]) => {
      const lines = [...items.values()].map((m) => ({
        ...m,
        openC: m.issuedC - m.returnedC - m.installedC - m.scrappedC,
      }));
      lines.sort((a, b) => Math.abs(b.openC) - Math.abs(a.openC) || (a.itemCode < b.itemCode ? -1 : 1));
      return { hopCode, lines, openLines: lines.filter((l) => l.openC !== 0).length };
    });
}
