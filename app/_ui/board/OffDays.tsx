import { memo } from "react";
import { offRuns } from "./geometry";
import type { BoardDay } from "./types";

/** Days off of a chunk, behind the blocks of all chunks: one may reach from another over them. */
export const OffDays = memo(function OffDays({
  days,
  fromDay,
  toDay,
  dayPx,
}: {
  days: readonly BoardDay[];
  fromDay: number;
  toDay: number;
  dayPx: number;
}) {
  return offRuns(days, fromDay, toDay).map((run) => (
    <div
      key={run.from}
      className="ui-board-off"
      aria-hidden="true"
      title={run.why}
      style={{
        marginLeft: `calc(var(--crew) + ${run.from * dayPx}px)`,
        width: (run.to - run.from) * dayPx,
      }}
    />
  ));
});
