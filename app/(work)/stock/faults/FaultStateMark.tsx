import { T } from "@/app/_ui/language/T";
import { StateMark } from "@/app/_ui/StateMark";
import type { StateName } from "@/app/_ui/states";
import type { FaultState } from "@/lib/stock";

export const LOOK: Record<FaultState, { state: StateName; word: string }> = {
  "on hold": { state: "hold", word: "On hold (piece)" },
  "in repair": { state: "under way", word: "In repair" },
  "back from repair": { state: "done", word: "Back from repair" },
  released: { state: "met", word: "Released" },
  exchanged: { state: "done", word: "Exchanged" },
  returned: { state: "done", word: "Returned to the supplier" },
  scrapped: { state: "none", word: "Scrapped" },
  "taken back": { state: "none", word: "Taken back" },
};

export function FaultStateMark({ state, boxed }: { state: FaultState; boxed?: boolean }) {
  return (
    <StateMark state={LOOK[state].state} boxed={boxed}>
      <T>{LOOK[state].word}</T>
    </StateMark>
  );
}
