import { expect, test } from "vitest";
import { DEFAULT_NORMS } from "@/lib/hours";
import { english } from "@/lib/phrase";
import { crewSteps, HopWorker, referenceCrew } from "@/lib/programme";
import { takeOff } from "@/lib/takeoff";
import { calendarDate } from "@/lib/time";
import { makeHop, makeTakeoffContext } from "../../helpers/hop";

const MONDAY = calendarDate("2026-03-16");

test("a repeated step has the figures of its own run only", () => {
  const hop = makeHop({ scheme: "1+1 hot standby" });
  const context = makeTakeoffContext();
  const taken = takeOff(hop, context);
  const worker = new HopWorker(context, DEFAULT_NORMS, referenceCrew([], MONDAY));
  const steps = crewSteps(worker.install(hop, "near", taken), hop, hop.near, taken.near);
  const labels = steps.filter((s) => s.id.startsWith("label-"));
  expect(labels.map((s) => [s.name, s.figures.map(english)])).toEqual([
    ["Label ODU, antenna and run (main)", ["R1 main: both ends of the run and the ODU"]],
    ["Label ODU, antenna and run (standby)", ["R2 standby: both ends of the run and the ODU"]],
  ]);
});

test("ties are told run by run, by what drives them, and add up to what the take-off counts", () => {
  const hop = makeHop({ scheme: "1+1 hot standby" });
  const context = makeTakeoffContext();
  const taken = takeOff(hop, context).near;
  const worker = new HopWorker(context, DEFAULT_NORMS, referenceCrew([], MONDAY));
  const estimate = worker.install(hop, "near", takeOff(hop, context));
  const said = crewSteps(estimate, hop, hop.near, taken)
    .filter((s) => /^fix-cable-\d(~1)?$/.test(s.id))
    .map((s) => s.figures.map(english));
  const outdoors =
    "54 ties outdoors: 36 along the route, 4 at the ends of the drip loop and to bind it, 6 at earthing points, 8 at wraps";
  expect(said).toEqual([
    [`R1: ${outdoors}`, "R1: 6 ties indoors"],
    [`R2: ${outdoors}`, "R2: 6 ties indoors"],
  ]);
  const total = taken.runs
    .flatMap((r) => Object.values(r.ties))
    .reduce((sum: number, n: number) => sum + n, 0);
  expect(total).toBeCloseTo(taken.drivers.tieCount, 6);
});

test("a step that two ascents share has the figures and cautions of the whole in both", () => {
  const hop = makeHop({ scheme: "1+1 hot standby" });
  const context = makeTakeoffContext();
  const taken = takeOff(hop, context);
  const worker = new HopWorker(context, DEFAULT_NORMS, referenceCrew([], MONDAY));
  const estimate = worker.install(hop, "near", taken);
  const whole = crewSteps(estimate, hop, hop.near, taken.near).find((s) => s.id === "fix-cable-2")!;
  expect(whole.figures.length).toBeGreaterThan(0);
  const task = estimate.tasks.find((t) => t.id === whole.id)!;
  const place = estimate.sequence.find((s) => s.taskId === whole.id)!;
  const parts = [1, 2].map((no) => `${whole.id}~${no}`);
  const steps = crewSteps(
    {
      ...estimate,
      tasks: parts.map((id) => ({ ...task, id })),
      sequence: parts.map((taskId) => ({ ...place, taskId })),
    },
    hop,
    hop.near,
    taken.near,
  );
  for (const step of steps) {
    expect(step.figures).toEqual(whole.figures);
    expect(step.cautions).toEqual(whole.cautions);
  }
});
