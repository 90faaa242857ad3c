/** Take-off speed: 2,000 made-up hops, cold and warm. */
import { Random } from "@/lib/random";
import { DEFAULT_CATALOGUE, DEFAULT_POLICY, DEFAULT_RULES, rollUp, takeOff } from "@/lib/takeoff";
import { calendarDate } from "@/lib/time";
import { makeHops, makeSites } from "@/seed/vellmark";

const today = calendarDate("2026-03-16");
const random = new Random("bench");
const sites = makeSites(random.fork("sites"), 4000);
const hops = makeHops(random.fork("hops"), sites, DEFAULT_CATALOGUE, today, 2000, 140);
const context = {
  sites: new Map(sites.map((s) => [s.id, s])),
  catalogue: DEFAULT_CATALOGUE,
  rules: DEFAULT_RULES,
  policy: DEFAULT_POLICY,
};

for (const name of ["cold", "warm"]) {
  const from = performance.now();
  const takeoffs = hops.map((h) => takeOff(h, context));
  const took = performance.now() - from;
  const need = rollUp(takeoffs, DEFAULT_RULES);
  console.log(
    `${name}: ${hops.length} hops in ${took.toFixed(0)} ms, ${((took / hops.length) * 1000).toFixed(0)} microseconds a hop; ` +
      `${need.lines.length} items in the roll-up`,
  );
}
