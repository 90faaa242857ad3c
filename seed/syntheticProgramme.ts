/**
 * An invented rollout as a scheduling problem: for tests, benchmarks and scale. Everything is drawn from the seed.
 *
 * Regions with a depot each; sites lie around their depot and hops join neighbours. Figures are plausible round
 * numbers, none of them measured.
 */
import { distanceKm } from "@/lib/geo";
import type { WorkSegment } from "@/lib/hours";
import { Random } from "@/lib/random";
import {
  type CrewDay,
  DEFAULT_WEIGHTS,
  type PlanCrew,
  type PlanHop,
  type PlanPlace,
  type PlanVisit,
  type PlanWeights,
  type ScheduleProblem,
  type VisitWindow,
} from "@/lib/schedule";
import { calendarDate } from "@/lib/time";
import { WORK_CLASSES } from "@/lib/weather";

export interface SyntheticSize {
  seed: string;
  sites: number;
  hops: number;
  crews: number;
  weeks: number;
  /** Most nights away of every second crew of a depot; 0 = all are home each night. Default 2. */
  nightsAwayMax?: number;
  /** Share of visits that an open gate keeps out. Default 0.01. */
  blockedShare?: number;
  /** Factor on set-up and work; where it is low, two crews do several hops a day. Default 1. */
  workShare?: number;
  weights?: PlanWeights;
}

/** The scale problem of the design document: 2,000 sites, 2,000 hops, 40 crews, 26 weeks. */
export const SCALE_SIZE: SyntheticSize = { seed: "scale", sites: 2000, hops: 2000, crews: 40, weeks: 26 };

/** Five times that: 10,000 sites and 150 crews. */
export const LARGEST_SIZE: SyntheticSize = {
  seed: "largest",
  sites: 10_000,
  hops: 5_000,
  crews: 150,
  weeks: 26,
};

/** Short work: two crews do two or three hops a day. */
export const SHORT_SIZE: SyntheticSize = {
  seed: "short",
  sites: 400,
  hops: 400,
  crews: 12,
  weeks: 16,
  workShare: 0.4,
};

/** About what the demonstration programme holds. */
export const DEMO_SIZE: SyntheticSize = { seed: "demo", sites: 60, hops: 40, crews: 5, weeks: 12 };

const FORECAST_DAYS = 10;
const BANDS = 3; // mount heights that share a window: low, middle, high
const DAY_SHIFT = { fromMin: 7 * 60, toMin: 17 * 60 };

export function syntheticProgramme(size: SyntheticSize): ScheduleProblem {
  const random = new Random(size.seed);
  const dayCount = size.weeks * 7;
  const regions = Math.max(1, Math.round(size.crews / 4));
  const { places, regionOf } = layOut(random.fork("places"), size.sites, regions);
  const { travelKm, travelMin } = travelBetween(places);
  const windows = weatherOf(random.fork("weather"), regions, dayCount);
  const crews = crewsOf(random.fork("crews"), size, regions, dayCount);
  const { hops, visits } = hopsOf(random.fork("hops"), size, places, regionOf, travelKm);
  return {
    firstDay: calendarDate("2026-03-02"),
    dayCount,
    frozenUntilDay: 0,
    places,
    travelKm,
    travelMin,
    crews,
    hops,
    visits: visits.map((v) => shortened(v, size.workShare ?? 1)),
    windows,
    weights: size.weights ?? DEFAULT_WEIGHTS,
    pinned: [],
  };
}

function shortened(v: PlanVisit, share: number): PlanVisit {
  const segments = v.segments.map((s) => ({
    ...s,
    durationMin: Math.max(5, Math.round(s.durationMin * share)),
  }));
  return share === 1 ? v : { ...v, setupMin: Math.round(v.setupMin * share), segments };
}

/** Sites first, then one depot a region. */
function layOut(random: Random, sites: number, regions: number) {
  const places: PlanPlace[] = [];
  const regionOf: number[] = [];
  const columns = Math.ceil(Math.sqrt(regions));
  const depots = Array.from({ length: regions }, (_, r) => ({
    latDeg: 48 + 1.6 * Math.floor(r / columns) + random.between(-0.2, 0.2),
    lonDeg: 10 + 2.4 * (r % columns) + random.between(-0.3, 0.3),
  }));
  for (let i = 0; i < sites; i++) {
    const region = i % regions;
    const depot = depots[region]!;
    const reach = 0.1 + 0.6 * Math.sqrt(random.next());
    const angle = random.between(0, 2 * Math.PI);
    const latDeg = depot.latDeg + reach * Math.sin(angle);
    const lonDeg = depot.lonDeg + 1.5 * reach * Math.cos(angle);
    places.push({ id: `site-${i}`, code: `S${String(i + 1).padStart(4, "0")}`, latDeg, lonDeg });
    regionOf.push(region);
  }
  depots.forEach((d, r) => {
    places.push({ id: `depot-${r}`, code: `D${r + 1}`, ...d });
  });
  return { places, regionOf };
}

/** Great circle x 1.3 at 60 km/h and five minutes for each trip. */
function travelBetween(places: readonly PlanPlace[]) {
  const n = places.length;
  const travelKm = new Float32Array(n * n);
  const travelMin = new Float32Array(n * n);
  for (let a = 0; a < n; a++) {
    for (let b = 0; b < a; b++) {
      const km = 1.3 * distanceKm(places[a]!, places[b]!);
      travelKm[a * n + b] = travelKm[b * n + a] = km;
      travelMin[a * n + b] = travelMin[b * n + a] = km + 5;
    }
  }
  return { travelKm, travelMin };
}

/** Windy and rainy spells inside the forecast; daylight and a stretch factor by season beyond it. */
function weatherOf(random: Random, regions: number, dayCount: number): VisitWindow[] {
  const windows: VisitWindow[] = [];
  const allDay = 0xffffff;
  for (let region = 0; region < regions; region++) {
    const spells = Array.from({ length: FORECAST_DAYS * 24 }, () => 0);
    for (let hour = 0; hour < spells.length; ) {
      const calm = 10 + random.below(40);
      const rough = 2 + random.below(9);
      const strength = 1 + random.below(BANDS);
      for (let i = hour + calm; i < Math.min(spells.length, hour + calm + rough); i++) spells[i] = strength;
      hour += calm + rough;
    }
    for (let band = 0; band < BANDS; band++) {
      const masks = new Uint32Array(WORK_CLASSES.length * dayCount);
      const stretch = new Float32Array(dayCount).fill(1);
      const riskMinPerH = new Float32Array(dayCount);
      for (let day = 0; day < dayCount; day++) {
        let daylight = 0;
        for (let h = 6; h < 19; h++) daylight |= 1 << h;
        let calm = 0;
        for (let h = 0; h < 24; h++)
          if (day >= FORECAST_DAYS || spells[day * 24 + h]! < BANDS - band) calm |= 1 << h;
        WORK_CLASSES.forEach((name, k) => {
          const mask = name === "indoor" ? allDay : name === "ground" ? daylight : daylight & calm;
          masks[k * dayCount + day] = mask;
        });
        if (day >= FORECAST_DAYS) {
          stretch[day] = 1.04 + 0.04 * band + 0.06 * (1 + Math.cos((day / 182) * Math.PI));
          riskMinPerH[day] = 3 + 2 * band;
        }
      }
      windows.push({ id: `region-${region}-${band}`, masks, stretch, riskMinPerH });
    }
  }
  return windows;
}

function crewsOf(random: Random, size: SyntheticSize, regions: number, dayCount: number): PlanCrew[] {
  return Array.from({ length: size.crews }, (_, c) => {
    const rank = Math.floor(c / regions); // first, second ... crew of its depot
    const hasRigger = rank % 2 === 0;
    const leaveFrom = random.below(Math.max(1, dayCount - 5));
    const days: (CrewDay | null)[] = Array.from({ length: dayCount }, (_, d) => {
      if (d % 7 >= 5) return null;
      const onLeave = d >= leaveFrom && d < leaveFrom + 5; // one person away for a week
      return {
        ...DAY_SHIFT,
        climbers: onLeave ? 2 : 3,
        rescuers: 2,
        riggers: hasRigger && !onLeave ? 1 : 0,
        technicians: 1,
        people: onLeave ? 3 : 4,
      };
    });
    return {
      id: `crew-${c}`,
      code: `C${String(c + 1).padStart(2, "0")}`,
      depotPlace: size.sites + (c % regions),
      days,
      payloadKg: 700,
      overtimeMaxMin: 120,
      weeklyMaxMin: 55 * 60,
      nightsAwayMax: rank % 2 === 0 ? 0 : (size.nightsAwayMax ?? 2),
      restMin: 11 * 60,
      pace: 0.95 + 0.1 * random.next(),
    };
  });
}

function hopsOf(
  random: Random,
  size: SyntheticSize,
  places: readonly PlanPlace[],
  regionOf: readonly number[],
  km: Float32Array,
) {
  const hops: PlanHop[] = [];
  const visits: PlanVisit[] = [];
  const horizon = size.weeks * 7;
  const near = neighbours(size.sites, regionOf, km, places.length);
  const blockedShare = size.blockedShare ?? 0.01;
  const open = { fromMin: 6 * 60, toMin: 20 * 60 };
  const accessOf = Array.from({ length: size.sites }, () => {
    const short = random.next() < 0.15 ? { fromMin: 9 * 60, toMin: 16 * 60 } : open;
    const closedOn = random.next() < 0.1 ? random.below(5) : -1;
    return Array.from({ length: 7 }, (_, w) => (w === closedOn ? null : short));
  });
  const noticeOf = Array.from({ length: size.sites }, () => (random.next() < 0.2 ? 5 : random.below(3)));
  const bandOf = Array.from({ length: size.sites }, () => random.below(BANDS));

  for (let h = 0; h < size.hops; h++) {
    const a = h < size.sites ? h : random.below(size.sites);
    const b = near[a]!.length > 0 ? random.pick(near[a]!) : (a + 1) % size.sites;
    const release = Math.floor(random.next() ** 1.3 * horizon * 0.55);
    const code = `H${String(h + 1).padStart(4, "0")}`;
    const promiseDay =
      random.next() < 0.15 ? undefined : release + 21 + random.below(Math.ceil(horizon * 0.35));
    hops.push({ id: `hop-${h}`, code, promiseDay, weight: random.next() < 0.2 ? 2 : 1 });
    const big = random.next() < 0.12;
    const first = visits.length;
    const shared = (site: number) => ({
      hop: h,
      place: site,
      access: accessOf[site]!,
      noticeDays: noticeOf[site]!,
      siteLock: true,
      window: regionOf[site]! * BANDS + bandOf[site]!,
    });
    const blockedBy = random.next() < blockedShare ? "structure approval is open" : undefined;
    for (const site of [a, b])
      visits.push({
        ...shared(site),
        id: `${code}-${site === a ? "A" : "B"}`,
        label: `${code} install ${places[site]!.code}`,
        kind: "install",
        segments: installSteps(random, big),
        setupMin: 25 + 5 * random.below(4),
        needs: { climbers: 2, rescuers: 1, riggers: big ? 1 : 0, technicians: 0, people: 3 },
        loadKg: (big ? 220 : 90) + random.below(60),
        releaseDay: release,
        kitReadyDay: Math.max(0, release + random.below(12) - 6),
        after: [],
        blockedBy: site === a ? blockedBy : undefined,
      });
    const alignment: WorkSegment[] = [
      { workClass: "alignment", durationMin: 40 + 5 * random.below(9) + (big ? 30 : 0), splittable: false },
    ];
    [a, b].forEach((site, i) => {
      visits.push({
        ...shared(site),
        id: `${code}-AL${i === 0 ? "A" : "B"}`,
        label: `${code} alignment ${places[site]!.code}`,
        kind: "alignment",
        segments: alignment,
        setupMin: 20,
        needs: { climbers: 2, rescuers: 1, riggers: 0, technicians: i === 0 ? 1 : 0, people: 2 },
        loadKg: 10,
        releaseDay: release,
        kitReadyDay: 0,
        after: [first, first + 1],
        togetherWith: first + 2 + (1 - i),
      });
    });
    if (random.next() < 0.3)
      visits.push({
        ...shared(a),
        id: `${code}-AC`,
        label: `${code} acceptance ${places[a]!.code}`,
        kind: "acceptance",
        segments: [{ workClass: "indoor", durationMin: 45, splittable: true }],
        setupMin: 10,
        needs: { climbers: 0, rescuers: 0, riggers: 0, technicians: 1, people: 2 },
        loadKg: 5,
        releaseDay: release,
        kitReadyDay: 0,
        after: [first + 2, first + 3],
      });
  }
  return { hops, visits };
}

function installSteps(random: Random, big: boolean): WorkSegment[] {
  const min = (from: number, steps: number) => from + 5 * random.below(steps);
  return [
    { workClass: "ground", durationMin: min(25, 5), splittable: true },
    { workClass: "hoist", durationMin: min(30, 5) + (big ? 45 : 0), splittable: false },
    { workClass: "aloft", durationMin: min(70, 17) + (big ? 45 : 0), splittable: true },
    { workClass: "open connection", durationMin: min(35, 7), splittable: false },
    { workClass: "indoor", durationMin: min(30, 5), splittable: true },
  ];
}

/** Up to eight sites of the same region within 40 km by road, nearest first. */
function neighbours(sites: number, regionOf: readonly number[], km: Float32Array, n: number): number[][] {
  return Array.from({ length: sites }, (_, a) => {
    const list: number[] = [];
    for (let b = 0; b < sites; b++) if (b !== a && regionOf[b] === regionOf[a]) list.push(b);
    list.sort((x, y) => km[a * n + x]! - km[a * n + y]! || x - y);
    const close = list.filter((b) => km[a * n + b]! < 40);
    return (close.length > 0 ? close : list).slice(0, 8);
  });
}
