import { T } from "@/app/_ui/language/T";
import { StateMark } from "@/app/_ui/StateMark";
import type { StateName } from "@/app/_ui/states";
import type { OrderState } from "@/db/schema";

export const LOOK: Record<OrderState, { state: StateName; word: string }> = {
  proposed: { state: "open", word: "Proposed" },
  approved: { state: "met", word: "Approved" },
  sent: { state: "planned", word: "Sent" },
  "partly received": { state: "under way", word: "Partly received" },
  closed: { state: "done", word: "Closed" },
};

export function OrderStateMark({ state, boxed }: { state: OrderState; boxed?: boolean }) {
  return (
    <StateMark state={LOOK[state].state} boxed={boxed}>
      <T>{LOOK[state].word}</T>
    </StateMark>
  );
}
