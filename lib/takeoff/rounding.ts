/** Rounding up in steps, and figures as they are written in a line's reason. */

/** Slack for binary fractions, in steps: 40 x 2 x 1.05 must be 84, not 84.00000000000001 and so 85. */
const SLACK = 1e-9;

/**
 * The smallest multiple of `step` that is not below `value`, free of binary noise.
 *
 * @throws RangeError when `step` is not above zero: rule data is checked when it is read
 */
export function roundUp(value: number, step: number): number {
  if (!(step > 0)) throw new RangeError(`step must be > 0, got ${step}`);
  const steps = value / step;
  return tidy(Math.ceil(steps - SLACK * Math.max(1, Math.abs(steps))) * step);
}

/** Drops binary noise beyond the ninth decimal; never gives -0. */
export const tidy = (value: number): number => Math.round(value * 1e9) / 1e9 + 0;

/** A figure for a reason: at most `decimals` decimals, no trailing zeros. */
export function figure(value: number, decimals = 3): string {
  const scale = 10 ** decimals;
  return String(Math.round(value * scale) / scale + 0);
}

/** A length in metres for a reason: one decimal, two where they carry something ("47.0", "42.25"). */
export function metres(value: number): string {
  const hundredths = Math.round(value * 100);
  return (hundredths / 100).toFixed(hundredths % 10 === 0 ? 1 : 2);
}

/** `1 run`, `2 runs`. */
export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${figure(count)} ${count === 1 ? one : many}`;
