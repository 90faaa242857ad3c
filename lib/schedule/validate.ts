/** Everything that can be wrong with a problem, found at once, before any of it is trusted. */
import type { Problem } from "@/lib/result";
import { WORK_CLASSES } from "@/lib/weather";
import type { PlacedVisit, ScheduleProblem } from "./types";

const CLASS_COUNT = WORK_CLASSES.length;

export function validate(p: ScheduleProblem): Problem[] {
  const problems: Problem[] = [];
  const say = (path: string, rule: string, value: unknown, message: string, remedy: string) =>
    problems.push({ path, rule, value, message, remedy });
  const inRange = (path: string, value: number, count: number, of: string) => {
    if (Number.isInteger(value) && value >= 0 && value < count) return true;
    say(
      path,
      "index-range",
      value,
      `There is no ${of} with this number.`,
      `Give a whole number from 0 to ${count - 1}.`,
    );
    return false;
  };
  const atLeast = (path: string, value: number, least: number) => {
    if (Number.isFinite(value) && value >= least) return;
    say(
      path,
      "number-range",
      value,
      `The figure must be a number of at least ${least}.`,
      "Correct the figure.",
    );
  };
  const sized = (path: string, length: number, wanted: number) => {
    if (length === wanted) return true;
    say(
      path,
      "size",
      length,
      `The table has ${length} entries and should have ${wanted}.`,
      "Build it for this problem's places, days and classes.",
    );
    return false;
  };

  if (!Number.isInteger(p.dayCount) || p.dayCount < 1) {
    say(
      "dayCount",
      "number-range",
      p.dayCount,
      "A plan needs at least one day.",
      "Give the number of days to plan.",
    );
    return problems;
  }
  const places = p.places.length;
  for (const name of ["travelKm", "travelMin"] as const) {
    if (!sized(name, p[name].length, places * places)) continue;
    const bad = firstNotTravel(p[name]);
    if (bad >= 0) {
      const path = `${name}[${Math.floor(bad / places)} -> ${bad % places}]`;
      say(
        path,
        "number-range",
        p[name][bad],
        `Travel must be a number from 0 to ${MOST_TRAVEL}.`,
        "Correct the travel table.",
      );
    }
    const stay = p.places.findIndex((_, i) => p[name][i * places + i] !== 0);
    if (stay >= 0)
      say(
        `${name}[${stay} -> ${stay}]`,
        "number-range",
        p[name][stay * places + stay],
        "From a place to itself there is no way.",
        "Set it to 0.",
      );
  }
  for (const [name, value] of Object.entries(p.weights))
    if (value !== undefined) atLeast(`weights.${name}`, value, 0);

  p.crews.forEach((crew, c) => {
    const at = `crews[${c}]`;
    inRange(`${at}.depotPlace`, crew.depotPlace, places, "place");
    sized(`${at}.days`, crew.days.length, p.dayCount);
    for (const key of ["payloadKg", "overtimeMaxMin", "weeklyMaxMin", "nightsAwayMax", "restMin"] as const)
      atLeast(`${at}.${key}`, crew[key], 0);
    atLeast(`${at}.pace`, crew.pace, 1e-3);
    for (const [kind, factor] of crew.paceByKind?.entries() ?? [])
      atLeast(`${at}.paceByKind[${kind}]`, factor, 1e-3);
    crew.days.forEach((day, d) => {
      if (day && !(day.fromMin >= 0 && day.fromMin < day.toMin && day.toMin <= 1440))
        say(
          `${at}.days[${d}]`,
          "shift",
          day,
          "A shift must start before it ends, within one day.",
          "Correct the shift.",
        );
    });
  });

  p.hops.forEach((hop, h) => {
    atLeast(`hops[${h}].weight`, hop.weight, 0);
    if (hop.promiseDay !== undefined && !Number.isFinite(hop.promiseDay))
      say(
        `hops[${h}].promiseDay`,
        "number-range",
        hop.promiseDay,
        "The promise is not a day.",
        "Give a day or leave it out.",
      );
  });

  p.windows.forEach((window, w) => {
    sized(`windows[${w}].masks`, window.masks.length, CLASS_COUNT * p.dayCount);
    for (const key of ["stretch", "riskMinPerH"] as const)
      sized(`windows[${w}].${key}`, window[key].length, p.dayCount);
    if (!window.stretch.every((x) => x > 0 && x < Number.POSITIVE_INFINITY))
      say(
        `windows[${w}].stretch`,
        "number-range",
        undefined,
        "A stretch factor must be above 0.",
        "Use 1 inside the forecast.",
      );
    if (!window.riskMinPerH.every((x) => x >= 0 && x < Number.POSITIVE_INFINITY))
      say(
        `windows[${w}].riskMinPerH`,
        "number-range",
        undefined,
        "Risk minutes must be 0 or more.",
        "Use 0 inside the forecast.",
      );
  });

  p.visits.forEach((visit, v) => {
    const at = `visits[${v}]`;
    inRange(`${at}.hop`, visit.hop, p.hops.length, "hop");
    inRange(`${at}.place`, visit.place, places, "place");
    inRange(`${at}.window`, visit.window, p.windows.length, "window");
    sized(`${at}.access`, visit.access.length, 7);
    for (const key of ["setupMin", "loadKg", "noticeDays"] as const) atLeast(`${at}.${key}`, visit[key], 0);
    visit.access.forEach((open, i) => {
      if (open && !(open.fromMin >= 0 && open.fromMin < open.toMin && open.toMin <= 1440))
        say(
          `${at}.access[${i}]`,
          "access",
          open,
          "Access must open before it closes, within one day.",
          "Correct the hours.",
        );
    });
    if (visit.segments.length === 0)
      say(
        `${at}.segments`,
        "no-work",
        visit.label,
        "The visit has no work.",
        "Estimate its hours or leave it out.",
      );
    visit.segments.forEach((s, i) => {
      if (!(s.durationMin > 0 && s.durationMin < Number.POSITIVE_INFINITY))
        say(
          `${at}.segments[${i}].durationMin`,
          "number-range",
          s.durationMin,
          "Work must last longer than 0 min.",
          "Drop the segment.",
        );
      if (!WORK_CLASSES.includes(s.workClass))
        say(
          `${at}.segments[${i}].workClass`,
          "work-class",
          s.workClass,
          "Unknown work class.",
          `Use one of ${WORK_CLASSES.join(", ")}.`,
        );
    });
    for (const key of ["releaseDay", "kitReadyDay"] as const)
      if (Number.isNaN(visit[key]))
        say(
          `${at}.${key}`,
          "number-range",
          visit[key],
          "The day is not a number.",
          "Block the visit when no day is known.",
        );
    visit.after.forEach((u, i) => {
      if (inRange(`${at}.after[${i}]`, u, p.visits.length, "visit") && u === v)
        say(
          `${at}.after[${i}]`,
          "cycle",
          u,
          `${visit.label} cannot wait for itself.`,
          "Take it out of its own list.",
        );
    });
    visit.takes?.forEach((t, i) => {
      inRange(`${at}.takes[${i}].item`, t.item, p.scarce?.length ?? 0, "scarce item");
      if (!(t.quantity >= 0))
        say(
          `${at}.takes[${i}].quantity`,
          "number-range",
          t.quantity,
          "A quantity taken is 0 or more.",
          "Drop the line.",
        );
    });
    if (visit.togetherWith !== undefined && visit.takes?.length)
      say(
        `${at}.takes`,
        "pair",
        visit.takes.length,
        "Joint work takes no scarce items.",
        "Let the install at that end take them.",
      );
    const w = visit.togetherWith;
    if (w !== undefined && inRange(`${at}.togetherWith`, w, p.visits.length, "visit")) {
      const other = p.visits[w]!;
      if (w === v || other.togetherWith !== v)
        say(
          `${at}.togetherWith`,
          "pair",
          w,
          `${visit.label} and ${other.label} must name each other.`,
          "Set both sides of the pair.",
        );
      const alike =
        other.segments.length === visit.segments.length &&
        other.segments.every(
          (s, i) =>
            s.workClass === visit.segments[i]!.workClass && s.splittable === visit.segments[i]!.splittable,
        );
      if (!alike)
        say(
          `${at}.segments`,
          "pair",
          w,
          "The two ends of joint work must list the same steps.",
          "Give both ends the same segments.",
        );
    }
  });
  p.scarce?.forEach((item, i) => {
    const falls = item.byDay.findIndex((q, d) => Number.isNaN(q) || q < (item.byDay[d - 1] ?? 0));
    if (item.byDay.length !== p.dayCount || falls >= 0)
      say(
        `scarce[${i}].byDay`,
        "supply",
        falls >= 0 ? item.byDay[falls] : item.byDay.length,
        `The supply of ${item.code} needs one quantity a day, from 0 on and never falling.`,
        "Add up what comes, day by day.",
      );
  });
  const cycle = problems.some((x) => x.rule === "index-range") ? undefined : findCycle(p);
  if (cycle)
    say(
      "visits.after",
      "cycle",
      cycle,
      `These visits wait for each other: ${cycle.map((v) => p.visits[v]!.label).join(" -> ")}.`,
      "Break the circle.",
    );

  // A plan in force may reach outside these days (it was made earlier): buildModel leaves such entries aside.
  const placements = (path: string, list: readonly PlacedVisit[], insideOnly: boolean) => {
    const seen = new Set<number>();
    list.forEach((x, i) => {
      const at = `${path}[${i}]`;
      inRange(`${at}.crew`, x.crew, p.crews.length, "crew");
      if (inRange(`${at}.visit`, x.visit, p.visits.length, "visit")) {
        if (seen.has(x.visit))
          say(
            `${at}.visit`,
            "twice",
            x.visit,
            `${p.visits[x.visit]!.label} is placed twice.`,
            "Keep one of them.",
          );
        seen.add(x.visit);
      }
      const inOrder = x.endDay > x.startDay || (x.endDay === x.startDay && x.endMin >= x.startMin);
      if (
        insideOnly &&
        (![x.startDay, x.startMin, x.endDay, x.endMin].every(Number.isInteger) ||
          !inOrder ||
          x.startDay < 0 ||
          x.endDay >= p.dayCount)
      )
        say(
          at,
          "time-order",
          x,
          "A placed visit must start before it ends, inside the plan's days.",
          "Correct it or drop it.",
        );
    });
  };
  placements("pinned", p.pinned, true);
  placements("underWay", p.underWay ?? [], true);
  placements("inForce", p.inForce ?? [], false);
  return problems;
}

/** The engine keeps whole minutes in 16 bits: 45 days on the road. */
const MOST_TRAVEL = 65_535;

/** Position of the first entry that is no travel figure, or -1. A plain loop: the table has millions of entries. */
function firstNotTravel(table: Float32Array): number {
  for (let i = 0; i < table.length; i++) if (!(table[i]! >= 0 && table[i]! <= MOST_TRAVEL)) return i;
  return -1;
}

/** A circle in "after", a pair counted as one visit; undefined when there is none. */
function findCycle(p: ScheduleProblem): number[] | undefined {
  const state = new Uint8Array(p.visits.length); // 0 new, 1 on the path, 2 done
  const lead = (v: number) => Math.min(v, p.visits[v]!.togetherWith ?? v);
  const before = (v: number) => {
    const w = p.visits[v]!.togetherWith;
    const own = p.visits[v]!.after;
    return (w === undefined ? own : [...own, ...p.visits[w]!.after]).map(lead);
  };
  for (let root = 0; root < p.visits.length; root++) {
    if (state[lead(root)] !== 0) continue;
    const path = [lead(root)];
    const todo = [before(lead(root))];
    state[path[0]!] = 1;
    while (path.length > 0) {
      const u = todo[todo.length - 1]!.pop();
      if (u === undefined) {
        state[path.pop()!] = 2;
        todo.pop();
      } else if (state[u] === 1) return [...path.slice(path.indexOf(u)), u];
      else if (state[u] === 0) {
        state[u] = 1;
        path.push(u);
        todo.push(before(u));
      }
    }
  }
  return undefined;
}
