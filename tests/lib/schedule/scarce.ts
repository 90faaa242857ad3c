/** Two items that come in by and by, drawn by a seed: every install takes some of one or both. */
import { Random } from "@/lib/random";
import type { ScheduleProblem } from "@/lib/schedule";

export function withScarceItems(problem: ScheduleProblem, seed: string): ScheduleProblem {
  const random = new Random(`${seed} scarce`);
  const orderedBy = 5 + random.below(Math.max(1, problem.dayCount));
  const scarce = ["CABLE", "RADIO"].map((code) => {
    let come = random.below(6);
    const byDay = Float64Array.from({ length: problem.dayCount }, (_, day) => {
      if (random.next() < 0.15) come += random.below(4);
      return day >= orderedBy ? Number.POSITIVE_INFINITY : come;
    });
    return { id: code, code, byDay };
  });
  const visits = problem.visits.map((v) => {
    if (v.kind !== "install") return v;
    const quantities = [random.below(3), random.below(2)];
    return {
      ...v,
      takes: quantities.flatMap((quantity, item) => (quantity > 0 ? [{ item, quantity }] : [])),
    };
  });
  return { ...problem, scarce, visits };
}
