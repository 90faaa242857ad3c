export {
  addDays,
  type CalendarDate,
  calendarDate,
  dayNumber,
  dayOfYear,
  daysBetween,
  fromDayNumber,
  isoWeek,
  isoWeekLabel,
  parseCalendarDate,
  type Weekday,
  weekdayOf,
} from "./calendar";
export { localOf, offsetMinutes } from "./clock";
export {
  arrivalDay,
  arrivesOn,
  FIVE_DAYS,
  leavesBy,
  type WorkingWeek,
  workdayBefore,
} from "./workdays";
export { type InstantMillis, instantAt, isKnownZone } from "./zone";
