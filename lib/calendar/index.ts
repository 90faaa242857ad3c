export { type CalendarContent, type CalendarEvent, writeCalendar } from "./calendar";
