/**
 * What the exact search of projects stands on, in processor time: the heuristic by itself against the published optima
 * after 5,000 schedules, and the real ends of a programme with their proofs.
 *
 *     npx tsx tests/bench/heuristic.bench.ts -- --data DIR --seed S
 */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { DEFAULT_NORMS, estimateHours, solveProject, THOROUGH_BUDGET } from "@/lib/hours";
import { endWork, referenceCrew, SIDES } from "@/lib/programme";
import { Random } from "@/lib/random";
import { DEFAULT_CATALOGUE, DEFAULT_POLICY, DEFAULT_RULES, takeOff } from "@/lib/takeoff";
import { calendarDate } from "@/lib/time";
import { demoCrews } from "@/seed/crews";
import { makeHops, makeSites } from "@/seed/vellmark";
import { ProcessorBudget } from "./processorTime";
import { parsePsplib } from "./psplib";
import { benchOptions, figuresOf } from "./publishedSet";

const SCHEDULES = 5000;
/** Each list of the priority rules, and each pass, is planned forward, then justified to the right and to the left. */
const RULES = 5;
const SCHEDULES_A_LIST = 3;

const set = benchOptions({ set: "rcpsp-j30", seconds: "0" });
if (existsSync(set.folder)) heuristicAlone();
else console.log(`not run: no benchmark data in ${set.folder} (set BENCH_DATA or --data)`);
realEnds();

function heuristicAlone(): void {
  const optima = figuresOf(set.folder, "optimum.csv");
  const names = readdirSync(set.folder)
    .filter((f) => f.endsWith(".sm") && f.includes(set.only))
    .map((f) => f.replace(/\.sm$/, ""));
  const passes = Math.floor(SCHEDULES / SCHEDULES_A_LIST) - RULES;
  const clock = new ProcessorBudget(Number.POSITIVE_INFINITY);
  const gaps = names.map((name) => {
    const project = parsePsplib(readFileSync(path.join(set.folder, `${name}.sm`), "utf8"));
    const { makespan } = solveProject(project, { nodes: 0, passes }, new Random(set.seed));
    const optimum = optima.get(name)?.get("makespan");
    if (optimum === undefined || makespan < optimum) throw new Error(`${name}: ${makespan}, ${optimum}`);
    return (100 * (makespan - optimum)) / optimum;
  });
  const mean = gaps.reduce((a, b) => a + b, 0) / gaps.length;
  console.log(
    `${names.length} cases, at most ${SCHEDULES} schedules each: mean deviation ${mean.toFixed(3)} %, ` +
      `worst ${Math.max(...gaps).toFixed(2)} %, ${gaps.filter((g) => g === 0).length} at the optimum, ` +
      `${clock.spent().processorS.toFixed(1)} processor s`,
  );
}

function realEnds(): void {
  const today = calendarDate("2026-03-16");
  const random = new Random("ends");
  const sites = makeSites(random.fork("sites"), 400);
  const hops = makeHops(random.fork("hops"), sites, DEFAULT_CATALOGUE, today, 200);
  const context = {
    sites: new Map(sites.map((s) => [s.id, s])),
    catalogue: DEFAULT_CATALOGUE,
    rules: DEFAULT_RULES,
    policy: DEFAULT_POLICY,
  };
  const crew = referenceCrew(demoCrews(today), today);
  const ends = hops.flatMap((hop) => {
    const takeoff = takeOff(hop, context);
    return SIDES.map((side) => endWork(hop, hop[side], context.sites.get(hop[side].siteId)!, takeoff[side]));
  });
  const found = ends.map((work) => {
    const clock = new ProcessorBudget(Number.POSITIVE_INFINITY);
    const estimate = estimateHours(work, DEFAULT_NORMS, crew, undefined, { budget: THOROUGH_BUDGET });
    return {
      millis: clock.spent().processorS * 1000,
      proved: estimate.proved,
      tasks: estimate.tasks.length,
    };
  });
  const millis = found.map((f) => f.millis).sort((a, b) => a - b);
  const quantile = (share: number) => millis[Math.floor(share * (millis.length - 1))]!.toFixed(1);
  const tasks = found.map((f) => f.tasks);
  console.log(
    `${found.length} ends of ${Math.min(...tasks)} to ${Math.max(...tasks)} tasks: median ${quantile(0.5)} ms, ` +
      `nine of ten within ${quantile(0.9)} ms, longest ${quantile(1)} ms; ` +
      `${found.filter((f) => f.proved).length} proved shortest`,
  );
}
