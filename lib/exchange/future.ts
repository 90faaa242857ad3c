/** Rows about a day that has not come yet, of kinds that say what was done. */
import { phrase } from "@/lib/phrase";
import { sentences } from "@/lib/result";
import type { CalendarDate } from "@/lib/time";
import type { Draft } from "./draft";
import { columnOf, kindOf } from "./kinds";
import { problemAt } from "./problems";
import type { KindName } from "./rows";

/** @param today where the programme is; undefined = not known, nothing is refused */
export function refuseFuture(
  kind: KindName,
  drafts: readonly Draft[],
  today: CalendarDate | undefined,
): void {
  const key = kindOf(kind).notAfterToday;
  if (key === undefined || today === undefined) return;
  for (const draft of drafts) {
    const day = draft.merged[key] as CalendarDate | undefined;
    if (draft.problems.length > 0 || day === undefined || day <= today) continue;
    const { label } = columnOf(kind, key);
    draft.problems.push(
      problemAt(
        { ...draft.at, column: label },
        {
          rule: "future-day",
          value: day,
          ...sentences(
            phrase("{{label}}: the day lies in the future.", { label: phrase(label) }),
            phrase("Give a day up to {{today}}, or leave the row out.", { today }),
          ),
        },
      ),
    );
  }
}
