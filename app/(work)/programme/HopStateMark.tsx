import { StateMark } from "@/app/_ui/StateMark";
import type { StateName } from "@/app/_ui/states";
import type { HopState } from "@/lib/programme";

const MARK: Record<HopState, { state: StateName; word: string }> = {
  done: { state: "done", word: "Done" },
  "on promise": { state: "planned", word: "On promise" },
  "at risk": { state: "warn", word: "At risk" },
  late: { state: "late", word: "Late" },
  held: { state: "hold", word: "Held" },
  "not planned": { state: "unplaced", word: "Not planned" },
};

/** Where a hop stands against its promise. */
export function HopStateMark({ state }: { state: HopState }) {
  const { state: name, word } = MARK[state];
  return <StateMark state={name}>{word}</StateMark>;
}
