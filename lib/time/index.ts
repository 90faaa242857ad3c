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
export { type InstantMillis, instantAt, isKnownZone } from "./zone";
