/**
 * Programmes whose best plan is known because they were made from it: crews in pairs, each pair at both ends of a few
 * hops a day, every minute of every shift used.
 *
 * Why nothing is cheaper. All sites lie equally far from the one depot, so a crew-day costs at least its own price and
 * the way there and back, and holds at most the rest of its shift. Every hop asks the same minutes of each end (set-up,
 * install, alignment), and the days are exactly full: fewer crew-days cannot hold the work, and no more hops can be
 * finished by any day. Nothing is late, open, away, in overtime or uneven. So every term of the weighted sum is at its
 * least at once. Where hops are of unlike length, shorter ones first would finish more of them sooner: there later
 * finishes have no price, and the rest holds as before.
 */
import { Random } from "@/lib/random";
import {
  type CrewDay,
  DEFAULT_WEIGHTS,
  type PlacedVisit,
  type PlanVisit,
  type ScheduleProblem,
} from "@/lib/schedule";
import { calendarDate } from "@/lib/time";
import { WORK_CLASSES } from "@/lib/weather";

export interface PlantedSize {
  seed: string;
  /** Pairs of crews. */
  pairs: number;
  /** Days that the planted plan takes. */
  days: number;
  hopsADay: number;
  /** Hops of unlike length, and so many pair-days on the same two hills: days must be packed to the minute. */
  uneven?: { pairDaysAHill: number };
  /** Days behind the planted plan that may be used as well: a search that is not perfect still places everything. */
  spareDays: number;
}

export interface PlantedProgramme {
  problem: ScheduleProblem;
  planted: readonly PlacedVisit[];
}

export const PLANTED_SIZES: Readonly<Record<"small" | "middle" | "large" | "uneven" | "scale", PlantedSize>> =
  {
    small: { seed: "small", pairs: 2, days: 5, hopsADay: 3, spareDays: 10 },
    middle: { seed: "middle", pairs: 5, days: 10, hopsADay: 3, spareDays: 10 },
    large: { seed: "large", pairs: 10, days: 20, hopsADay: 3, spareDays: 10 },
    uneven: { seed: "uneven", pairs: 5, days: 10, hopsADay: 3, spareDays: 10, uneven: { pairDaysAHill: 5 } },
    // 2,040 sites, 40 crews, 26 weeks to choose from.
    scale: { seed: "scale", pairs: 20, days: 17, hopsADay: 3, spareDays: 26 * 7 - 17 },
  };

const SHIFT = { fromMin: 420, toMin: 1020 };
/** One way from the depot, km and minutes alike. */
const WAY = 60;
const SETUP_MIN = 10;

export function plantedProgramme(size: PlantedSize): PlantedProgramme {
  const { seed, pairs, days, hopsADay, spareDays } = size;
  const random = new Random(seed);
  const dayMin = SHIFT.toMin - SHIFT.fromMin - 2 * WAY;
  if (dayMin % hopsADay !== 0) throw new RangeError(`${dayMin} min do not part into ${hopsADay} equal hops`);
  const hopMins = () =>
    size.uneven ? parted(random, dayMin, hopsADay) : new Array<number>(hopsADay).fill(dayMin / hopsADay);
  const pairDaysAHill = size.uneven?.pairDaysAHill ?? 1;
  const dayCount = days + spareDays;

  // A hill for each end of each pair-day, in a drawn order around the depot; the sites of a hill lie together.
  const hills = random.shuffle(Array.from({ length: 2 * pairs * days }, (_, i) => i));
  const hillOf: number[] = [-1];
  const visits: PlanVisit[] = [];
  const planted: PlacedVisit[] = [];
  const shared = {
    setupMin: SETUP_MIN,
    loadKg: 0,
    releaseDay: 0,
    kitReadyDay: 0,
    window: 0,
    access: Array.from({ length: 7 }, () => ({ fromMin: 0, toMin: 1440 })),
    noticeDays: 0,
    siteLock: true,
  };
  let hop = 0;
  for (let day = 0; day < days; day++) {
    for (let pair = 0; pair < pairs; pair++) {
      let time = SHIFT.fromMin + WAY;
      const onHill = Math.floor((day * pairs + pair) / pairDaysAHill);
      for (const hopMin of hopMins()) {
        const alignMin = 20 + 5 * random.below(9);
        const installMin = hopMin - SETUP_MIN - alignMin;
        const first = visits.length;
        [0, 1].forEach((end) => {
          hillOf.push(hills[2 * onHill + end]!);
          visits.push({
            ...shared,
            id: `H${hop}/${end}/install`,
            label: `H${hop} ${end}`,
            kind: "install",
            hop,
            place: hillOf.length - 1,
            segments: [{ workClass: "aloft", durationMin: installMin, splittable: false }],
            needs: { climbers: 2, rescuers: 1, riggers: 0, technicians: 0, people: 3 },
            after: [],
          });
        });
        [0, 1].forEach((end) => {
          visits.push({
            ...shared,
            id: `H${hop}/${end}/alignment`,
            label: `H${hop} ${end}`,
            kind: "alignment",
            hop,
            place: visits[first + end]!.place,
            segments: [{ workClass: "alignment", durationMin: alignMin, splittable: false }],
            needs: { climbers: 2, rescuers: 1, riggers: 0, technicians: 0, people: 3 },
            after: [first, first + 1],
            togetherWith: first + 3 - end,
          });
        });
        const installFrom = time + SETUP_MIN;
        const alignFrom = installFrom + installMin;
        [0, 1].forEach((end) => {
          const crew = 2 * pair + end;
          const on = { crew, startDay: day, endDay: day };
          planted.push(
            { ...on, visit: first + end, startMin: installFrom, endMin: alignFrom },
            { ...on, visit: first + 2 + end, startMin: alignFrom, endMin: alignFrom + alignMin },
          );
        });
        time += hopMin;
        hop++;
      }
    }
  }
  const order = random.shuffle(Array.from({ length: hop }, (_, h) => h));
  return renamed({
    visits,
    planted,
    order,
    problem: {
      ...roundTheDepot(hillOf, 2 * pairs, 2 * pairs * days, dayCount),
      weights: size.uneven ? { ...DEFAULT_WEIGHTS, finishDay: 0 } : DEFAULT_WEIGHTS,
    },
  });
}

/** A day's minutes in `parts` unlike pieces, none under an hour and a half. */
function parted(random: Random, dayMin: number, parts: number): number[] {
  const least = 90;
  const cuts = Array.from({ length: parts - 1 }, () => 5 * random.below((dayMin - parts * least) / 5 + 1));
  const at = [0, ...cuts.sort((a, b) => a - b), dayMin - parts * least];
  return Array.from({ length: parts }, (_, k) => least + at[k + 1]! - at[k]!);
}

/** Everything but visits and hops: places on a circle, crews alike, weather always open. */
function roundTheDepot(
  hillOf: readonly number[],
  crews: number,
  hills: number,
  dayCount: number,
): Omit<ScheduleProblem, "weights"> {
  const n = hillOf.length;
  const km = new Float32Array(n * n);
  const apart = (a: number, b: number) => 2 * WAY * Math.sin((Math.PI * Math.abs(a - b)) / hills);
  for (let a = 0; a < n; a++) {
    for (let b = 0; b < n; b++) {
      if (a !== b) km[a * n + b] = a === 0 || b === 0 ? WAY : apart(hillOf[a]!, hillOf[b]!);
    }
  }
  const everyDay: CrewDay = { ...SHIFT, climbers: 3, rescuers: 2, riggers: 1, technicians: 1, people: 4 };
  return {
    firstDay: calendarDate("2026-03-02"),
    dayCount,
    frozenUntilDay: 0,
    places: hillOf.map((_, i) => ({ id: `P${i}`, code: i === 0 ? "DEPOT" : `S${i}`, latDeg: 0, lonDeg: 0 })),
    travelKm: km,
    travelMin: km,
    crews: Array.from({ length: crews }, (_, c) => ({
      id: `K${c}`,
      code: `K${c}`,
      depotPlace: 0,
      days: Array.from({ length: dayCount }, () => everyDay),
      payloadKg: 1000,
      overtimeMaxMin: 0,
      weeklyMaxMin: 7 * 1440,
      nightsAwayMax: 0,
      restMin: 600,
      pace: 1,
    })),
    hops: [],
    visits: [],
    windows: [
      {
        id: "always",
        masks: new Uint32Array(WORK_CLASSES.length * dayCount).fill(0xffffff),
        stretch: new Float32Array(dayCount).fill(1),
        riskMinPerH: new Float32Array(dayCount),
      },
    ],
    pinned: [],
  };
}

/** Hops in a drawn order: their numbers must not give the planted plan away. */
function renamed(made: {
  problem: Omit<ScheduleProblem, "hops" | "visits">;
  visits: readonly PlanVisit[];
  planted: readonly PlacedVisit[];
  order: readonly number[];
}): PlantedProgramme {
  const { order } = made;
  const visitsAHop = 4;
  const newHop = new Map(order.map((old, h) => [old, h]));
  const newVisit = (v: number) => newHop.get(Math.floor(v / visitsAHop))! * visitsAHop + (v % visitsAHop);
  const visits = new Array<PlanVisit>(made.visits.length);
  made.visits.forEach((v, i) => {
    visits[newVisit(i)] = {
      ...v,
      hop: newHop.get(v.hop)!,
      after: v.after.map(newVisit),
      togetherWith: v.togetherWith === undefined ? undefined : newVisit(v.togetherWith),
    };
  });
  const hops = order.map((_, h) => ({ id: `H${h}`, code: `H${h}`, weight: 1 }));
  return {
    problem: { ...made.problem, hops, visits },
    planted: made.planted.map((x) => ({ ...x, visit: newVisit(x.visit) })),
  };
}
