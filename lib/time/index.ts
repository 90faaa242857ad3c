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
export { type InstantMillis, instantAt, isKnownZone, localOf, offsetMinutes } from "./zone";
