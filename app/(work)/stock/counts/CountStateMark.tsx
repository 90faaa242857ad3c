import { T } from "@/app/_ui/language/T";
import { StateMark } from "@/app/_ui/StateMark";
import type { CountState } from "@/db/schema/count";

export const MARKS = {
  counting: ["open", "being counted"],
  counted: ["warn", "waits for approval"],
  approved: ["done", "approved and posted"],
  cancelled: ["fail", "cancelled"],
} as const satisfies Record<CountState, readonly [string, string]>;

export function CountStateMark({ state }: { state: CountState }) {
  const [mark, words] = MARKS[state];
  return (
    <StateMark state={mark}>
      <T>{words}</T>
    </StateMark>
  );
}
