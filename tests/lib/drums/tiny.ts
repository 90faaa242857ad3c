/** Tiny cutting problems by seed, small enough for `leastCost`. */
import type { PackingProblem } from "@/lib/drums/packing";
import { Random } from "@/lib/random";
import type { TinyProblem } from "./exhaustive";

export function tinyProblem(seed: number): TinyProblem {
  const random = new Random(`tiny/${seed}`);
  const some = <T>(least: number, most: number, make: (i: number) => T): T[] =>
    Array.from({ length: least + random.below(most - least + 1) }, (_, i) => make(i));
  const sizes = some(2, 6, () => 5 + random.below(46)).sort((a, b) => b - a);
  return {
    sizes,
    needDays: sizes.map(() => random.below(4)),
    ends: sizes.map(() => random.below(3)),
    onHand: some(0, 3, () => {
      const isUncut = random.below(3) === 0;
      return { lengthCm: isUncut ? 100 : 4 + random.below(90), day: random.below(2), price: 0, isUncut };
    }),
    kinds: some(0, 2, (i) => ({
      lengthCm: [100, 60][i]!,
      day: 1 + random.below(3),
      price: [100, 66][i]!,
      isUncut: true,
    })),
    minUseful: random.below(20),
  };
}

/** The same, with drums and runs at three places, a day or two apart, one way shut; what is bought comes to any of them. */
export function tinyPlacedProblem(seed: number): TinyProblem {
  const tiny = tinyProblem(seed);
  const random = new Random(`placed/${seed}`);
  return {
    ...tiny,
    places: tiny.sizes.map(() => random.below(3)),
    onHand: tiny.onHand.map((s) => ({ ...s, place: random.below(3) })),
    kinds: tiny.kinds.flatMap((s) => [0, 1, 2].map((place) => ({ ...s, place }))),
    over: [
      [0, 1, 2],
      [1, 0, Number.POSITIVE_INFINITY],
      [2, 1, 0],
    ],
  };
}

export function dense(tiny: TinyProblem): PackingProblem {
  const stock = (s: TinyProblem["onHand"][number]) => ({
    capacityCm: s.lengthCm,
    availableDay: s.day,
    priceMinor: s.price,
    isUncut: s.isUncut,
    ...(s.place === undefined ? {} : { place: s.place, daysOver: tiny.over![s.place]! }),
  });
  return {
    sizesCm: tiny.sizes,
    needDays: tiny.needDays,
    ends: tiny.ends,
    ...(tiny.places ? { places: tiny.places } : {}),
    onHand: tiny.onHand.map(stock),
    kinds: tiny.kinds.map(stock),
    minUsefulCm: tiny.minUseful,
  };
}
