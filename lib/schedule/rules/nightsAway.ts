/** "Nights away": only so many in a row, only between two worked calendar days. */
import { counted } from "../counted";
import type { Model } from "../model";

export const NIGHTS_AWAY = {
  name: "nights away",
  text: (max: number) => `more than ${counted(max, "night")} away in a row`,
};

/**
 * Does crew `c` sleep near place `from` when it starts the next day at place `to`? It does when that is cheaper than
 * the way home and out again, tomorrow is a working day, and the row of nights is not used up.
 */
export function sleepsAway(
  m: Model,
  c: number,
  day: number,
  nights: number,
  from: number,
  to: number,
): boolean {
  if (nights >= m.nightsMax[c]! || m.nextWork[day * m.crewCount + c] !== day + 1) return false;
  const home = m.depot[c]!;
  if (from === home) return false;
  const n = m.placeCount;
  const w = m.problem.weights;
  const kmSaved = m.travelKm[from * n + home]! + m.travelKm[home * n + to]! - m.travelKm[from * n + to]!;
  const minSaved = m.travelMin[from * n + home]! + m.travelMin[home * n + to]! - m.travelMin[from * n + to]!;
  return w.nightAway < w.travelKm * kmSaved + w.travelMin * minSaved;
}
