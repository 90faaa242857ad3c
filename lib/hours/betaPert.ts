/**
 * Quantiles of the beta-PERT distribution: Beta(1 + 4f, 1 + 4(1 - f)) on [0, 1] with f the place of the mode, stretched
 * over a task's range. Its mean is exactly the PERT mean (a + 4m + b) / 6.
 *
 * A table, since a simulation draws thousands of times: `MODES` places of the mode by `LEVELS` probabilities, linear in
 * between. Built once from the distribution function by the trapezoid rule; error of the mean below 0.2 % of the range.
 */
const MODES = 32;
const LEVELS = 256;
const STEPS = 4000;

let table: Float64Array | undefined;

/**
 * @param f place of the mode in the range, 0..1
 * @param u probability, 0..1
 * @returns share of the range, 0..1
 */
export function betaPertQuantile(f: number, u: number): number {
  table ??= buildTable();
  const row = Math.min(MODES - 1, Math.floor(f * MODES));
  const column = Math.min(LEVELS - 1, Math.floor(u * LEVELS));
  const df = f * MODES - row;
  const du = u * LEVELS - column;
  const width = LEVELS + 1;
  const at = row * width + column;
  const low = table[at]! + du * (table[at + 1]! - table[at]!);
  const high = table[at + width]! + du * (table[at + width + 1]! - table[at + width]!);
  return low + df * (high - low);
}

function buildTable(): Float64Array {
  const rows = new Float64Array((MODES + 1) * (LEVELS + 1));
  for (let m = 0; m <= MODES; m++) fillRow(rows, m * (LEVELS + 1), m / MODES);
  return rows;
}

function fillRow(rows: Float64Array, base: number, f: number): void {
  const alpha = 1 + 4 * f;
  const beta = 1 + 4 * (1 - f);
  const density = (x: number): number => x ** (alpha - 1) * (1 - x) ** (beta - 1);
  const cumulative = new Float64Array(STEPS + 1);
  for (let k = 1; k <= STEPS; k++) {
    cumulative[k] = cumulative[k - 1]! + 0.5 * (density((k - 1) / STEPS) + density(k / STEPS));
  }
  const total = cumulative[STEPS]!;
  let k = 0;
  for (let level = 0; level <= LEVELS; level++) {
    const target = (level / LEVELS) * total;
    while (k < STEPS - 1 && cumulative[k + 1]! < target) k++;
    const step = cumulative[k + 1]! - cumulative[k]!;
    const inside = step > 0 ? (target - cumulative[k]!) / step : 0;
    rows[base + level] = (k + Math.min(1, Math.max(0, inside))) / STEPS;
  }
  rows[base] = 0;
  rows[base + LEVELS] = 1;
}
