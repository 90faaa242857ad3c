import { memo } from "react";
import { type CalendarDate, weekdayOf } from "@/lib/time";

export interface BackdropProps {
  firstDay: CalendarDate;
  dayPx: number;
  todayDay?: number;
  frozenUntilDay: number;
}

/** Weekends, settled days and today behind all rows at once: cheaper than in every cell. */
export const Backdrop = memo(function Backdrop({ firstDay, dayPx, todayDay, frozenUntilDay }: BackdropProps) {
  return (
    <div className="ui-board-backdrop" aria-hidden="true">
      <div className="ui-board-weekends" style={{ backgroundPositionX: (6 - weekdayOf(firstDay)) * dayPx }} />
      {frozenUntilDay > 0 ? (
        <div className="ui-board-frozen" style={{ width: frozenUntilDay * dayPx }} />
      ) : null}
      {todayDay === undefined ? null : (
        <div className="ui-board-today" style={{ left: todayDay * dayPx, width: dayPx }} />
      )}
    </div>
  );
});
