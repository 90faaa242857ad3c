/** Whether a kit is there and in the state that a step wants. */
import { phrase } from "@/lib/phrase";
import { type Problem, problem } from "@/lib/result";
import type { StoredKit } from "./plans";

/** undefined when nothing stands against the step. */
export function kitProblem(
  kit: StoredKit | undefined,
  visitId: string,
  wanted: "open" | "issued",
): Problem | undefined {
  if (!kit)
    return problem(
      "visit",
      "kit-unknown",
      visitId,
      phrase("The plan in force has no kit for this visit."),
      phrase("Open the list of kits again: the plan may have changed."),
    );
  if ((kit.state === "issued") === (wanted === "issued")) return undefined;
  return problem(
    "state",
    "kit-state",
    kit.state,
    wanted === "open" ? phrase("The kit is issued already.") : phrase("The kit is not issued yet."),
    phrase("Reload the page."),
  );
}
