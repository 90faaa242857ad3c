/**
 * Seeded random numbers. The same seed gives the same stream on every machine.
 * Generator: sfc32 (C. Doty-Humphrey, PractRand), seeded through a 32-bit string hash (cyrb128 form, public domain).
 */
export class Random {
  #a: number;
  #b: number;
  #c: number;
  #d: number;
  readonly #seed: string;

  constructor(seed: number | string) {
    this.#seed = String(seed);
    [this.#a, this.#b, this.#c, this.#d] = hash128(this.#seed);
    for (let i = 0; i < 12; i++) this.uint32();
  }

  /** Uniform integer in [0, 2^32). */
  uint32(): number {
    const t = (((this.#a + this.#b) | 0) + this.#d) | 0;
    this.#d = (this.#d + 1) | 0;
    this.#a = this.#b ^ (this.#b >>> 9);
    this.#b = (this.#c + (this.#c << 3)) | 0;
    this.#c = (this.#c << 21) | (this.#c >>> 11);
    this.#c = (this.#c + t) | 0;
    return t >>> 0;
  }

  /** Uniform in [0, 1). */
  next(): number {
    return this.uint32() / 4294967296;
  }

  /** Uniform integer in [0, n). n must be positive. */
  below(n: number): number {
    return Math.floor(this.next() * n);
  }

  /** Uniform in [lo, hi). */
  between(lo: number, hi: number): number {
    return lo + (hi - lo) * this.next();
  }

  /** Standard normal deviate (Box-Muller, one of the pair). */
  normal(): number {
    const u = 1 - this.next();
    return Math.sqrt(-2 * Math.log(u)) * Math.cos(2 * Math.PI * this.next());
  }

  pick<T>(list: readonly T[]): T {
    return list[this.below(list.length)]!;
  }

  /** In-place Fisher-Yates shuffle. */
  shuffle<T>(list: T[]): T[] {
    for (let i = list.length - 1; i > 0; i--) {
      const j = this.below(i + 1);
      [list[i], list[j]] = [list[j]!, list[i]!];
    }
    return list;
  }

  /** An independent stream: a draw added to one fork shifts no other. */
  fork(name: string): Random {
    return new Random(`${this.#seed}/${name}`);
  }
}

function hash128(text: string): [number, number, number, number] {
  let h1 = 1779033703;
  let h2 = 3144134277;
  let h3 = 1013904242;
  let h4 = 2773480762;
  for (let i = 0; i < text.length; i++) {
    const k = text.charCodeAt(i);
    h1 = h2 ^ Math.imul(h1 ^ k, 597399067);
    h2 = h3 ^ Math.imul(h2 ^ k, 2869860233);
    h3 = h4 ^ Math.imul(h3 ^ k, 951274213);
    h4 = h1 ^ Math.imul(h4 ^ k, 2716044179);
  }
  h1 = Math.imul(h3 ^ (h1 >>> 18), 597399067);
  h2 = Math.imul(h4 ^ (h2 >>> 22), 2869860233);
  h3 = Math.imul(h1 ^ (h3 >>> 17), 951274213);
  h4 = Math.imul(h2 ^ (h4 >>> 19), 2716044179);
  return [h1 ^ h2 ^ h3 ^ h4, h2, h3, h4];
}
