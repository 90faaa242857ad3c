/** What the worker gives the drums' exact method: the solver, loaded once, and a clock for each cable. */
import loadHighs from "highs";
import { type ExactCutting, highsSolver, type LinearSolver } from "@/lib/drums";
import { machineNow } from "./clock";

let loaded: Promise<LinearSolver> | undefined;

/**
 * @param secondsACable  most time for the cutting list of one cable; most are proved the best long before
 * @param shouldStop     the job was asked to stop
 */
export async function exactCutting(secondsACable: number, shouldStop: () => boolean): Promise<ExactCutting> {
  loaded ??= loadHighs().then(highsSolver);
  return {
    solver: await loaded,
    startTime: () => {
      const end = machineNow() + secondsACable * 1000;
      return () => machineNow() > end || shouldStop();
    },
  };
}
