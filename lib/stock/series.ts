/** Values by day, many of them: a large catalogue nets hundreds of thousands of series. */

/** Doubles in one piece of memory. */
const CHUNK = 1 << 18;

/**
 * Hands out series of one length, cut from large pieces of memory: a buffer for each series costs the collector more
 * time than the sums take (tests/bench/netting.bench.ts).
 */
export class SeriesSource {
  private chunk = new Float64Array(0);
  private used = 0;

  /** Shared by all that have nothing on any day: never written to. */
  readonly nothing: Float64Array;

  constructor(readonly dayCount: number) {
    this.nothing = new Float64Array(dayCount);
  }

  /** A series of zeros. */
  next(): Float64Array {
    if (this.used + this.dayCount > this.chunk.length) {
      this.chunk = new Float64Array(Math.max(CHUNK, this.dayCount));
      this.used = 0;
    }
    this.used += this.dayCount;
    return this.chunk.subarray(this.used - this.dayCount, this.used);
  }

  copy(of: Float64Array): Float64Array {
    const series = this.next();
    series.set(of);
    return series;
  }
}
