import { phrase } from "@/lib/phrase";
import { sentences } from "@/lib/result";
import type { CalendarDate } from "@/lib/time";
import { zoneUnknown } from "../cellTimes";
import { columnsOf } from "../columns";
import { timeOfDayText, wallInstant } from "../dates";
import type { WeatherPlaceRow, WeatherRow } from "../rows";
import type { Cells, ImportKind, RowFault } from "../types";

const w = columnsOf<WeatherPlaceRow>();
const h = columnsOf<WeatherRow, "date" | "time">();

const HOUR_MILLIS = 3_600_000;

export const weatherPlaces: ImportKind<"weather places"> = {
  name: "weather places",
  title: "Weather places",
  description: "Stations or grid points whose hours the sites near them share.",
  key: ["code"],
  references: [],
  columns: [
    w.text("code", "Weather place", "WX-3", "Code that names the place.", {
      required: true,
      aliases: ["place", "place code", "station", "station id", "code"],
      maxLength: 60,
    }),
    w.text("name", "Name", "Ridge station", "Name on screen.", { required: true, aliases: ["station name"] }),
    w.measure("latDeg", "Latitude", "deg", "47.4", "Degrees north.", {
      required: true,
      aliases: ["lat"],
      min: -90,
      max: 90,
    }),
    w.measure("lonDeg", "Longitude", "deg", "8.5", "Degrees east.", {
      required: true,
      aliases: ["lon", "lng"],
      min: -180,
      max: 180,
    }),
    w.measure("elevationM", "Elevation", "m", "540", "Above sea level.", {
      required: true,
      aliases: ["altitude"],
      min: -430,
      max: 9000,
    }),
  ],
};

/** A missing figure is a blank cell. Figures outside these limits are refused: they are faults of a sensor or a unit. */
export const weather: ImportKind<"weather"> = {
  name: "weather",
  title: "Weather",
  description:
    "Hourly series, one row per place and hour. Blank = not measured, never taken for fine weather.",
  key: ["placeCode", "startsAtMillis", "memberNo"],
  references: [{ columns: ["placeCode"], kinds: ["weather places"] }],
  columns: [
    h.text("placeCode", "Weather place", "WX-3", "Code of the weather place.", {
      required: true,
      aliases: ["place", "place code", "station", "station id"],
      maxLength: 60,
    }),
    h.instant(
      "startsAtMillis",
      "Hour starts (UTC)",
      "2026-01-01T13:00Z",
      "Start of the hour, UTC or with an offset.",
      {
        required: true,
        aliases: [
          "hour starts",
          "time (utc)",
          "time",
          "timestamp",
          "datetime",
          "date time",
          "date",
          "starts at",
        ],
      },
    ),
    h.date("date", "Date", "", "Instead of Hour starts: the date, with Time.", {
      aliases: ["day"],
      partner: "time",
      isVirtual: true,
    }),
    h.time("time", "Time of day", "", "Instead of Hour starts: 00:00 to 24:00, with Date.", {
      aliases: ["hour", "clock", "time"],
      partner: "date",
      isVirtual: true,
    }),
    h.integer("memberNo", "Member", "", "Ensemble forecasts only: which member the row belongs to, from 1.", {
      aliases: ["ensemble member", "member no", "realization", "realisation"],
      min: 1,
      max: 200,
    }),
    h.measure("windMs", "Wind", "m/s", "5.2", "Mean at 10 m.", {
      aliases: ["wind speed", "mean wind", "wspd", "wind mean"],
      min: 0,
      max: 120,
    }),
    h.measure("gustMs", "Gust", "m/s", "8.1", "Highest gust of the hour at 10 m.", {
      aliases: ["wind gust", "gusts"],
      min: 0,
      max: 150,
    }),
    h.measure("rainMmH", "Rain", "mm/h", "0.2", "Precipitation of the hour.", {
      aliases: ["precipitation", "precip", "rainfall"],
      min: 0,
      max: 500,
    }),
    h.measure("tempC", "Temperature", "degC", "4.5", "Air temperature.", {
      aliases: ["temp", "air temperature", "dry-bulb"],
      min: -80,
      max: 60,
    }),
    h.measure("humidityPct", "Humidity", "%", "80", "Relative humidity.", {
      aliases: ["relative humidity", "rh", "rhum"],
      min: 0,
      max: 100,
    }),
    h.yesNo("thunder", "Thunder", "no", "Thunder within reach in this hour.", {
      aliases: ["thunderstorm", "lightning"],
    }),
  ],
  fold: foldHour,
  check: (row) =>
    row.startsAtMillis % HOUR_MILLIS === 0
      ? []
      : [
          {
            key: "startsAtMillis",
            rule: "not-a-full-hour",
            ...sentences(
              phrase("The time is not at a full hour (UTC)."),
              phrase("Give hourly values that start at full hours."),
            ),
          },
        ],
};

/** Date and time of day -> start of the hour; both are wall clock of the file's zone. */
function foldHour(
  cells: Cells,
  options: { zone?: string },
): { values: Record<string, unknown>; faults: RowFault[] } {
  const values: Record<string, unknown> = { ...cells };
  delete values.date;
  delete values.time;
  if (typeof cells.date !== "string" || typeof cells.time !== "number") return { values, faults: [] };
  const text = `${cells.date} ${timeOfDayText(cells.time)}`;
  if (options.zone === undefined) {
    return { values, faults: [{ key: "startsAtMillis", ...zoneUnknown("Date and Time of day", text) }] };
  }
  if (values.startsAtMillis !== undefined) {
    return {
      values,
      faults: [
        {
          key: "startsAtMillis",
          rule: "hour-given-twice",
          ...sentences(
            phrase("The hour stands both in Hour starts and in Date and Time."),
            phrase("Leave out one of them in the column matching."),
          ),
        },
      ],
    };
  }
  values.startsAtMillis = wallInstant(cells.date as CalendarDate, cells.time, options.zone);
  return { values, faults: [] };
}
