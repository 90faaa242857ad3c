/**
 * Numbers, dates and units for readers. Screens format here and nowhere else; lib and db hold plain values.
 * Every function takes the reader's locale; "en-GB" when the page does not know better. Missing values give
 * an en dash, never "NaN", "null" or an empty cell that could be read as nought.
 */
import { type CalendarDate, dayNumber, isoWeek, localOf, weekdayOf } from "@/lib/time";

export const DEFAULT_LOCALE = "en-GB";
export const NO_VALUE = "\u2013";

const THIN = "\u202f";
/** Keeps what belongs together on one line: "16 Mar", "28 pieces". */
export const TIED = "\u00a0";

// Making an Intl formatter costs more than using it a thousand times: a table of 10,000 rows keeps its own.
const numberFormats = new Map<string, Intl.NumberFormat>();
const dateFormats = new Map<string, Intl.DateTimeFormat>();

function numberFormat(locale: string, options: Intl.NumberFormatOptions): Intl.NumberFormat {
  const key = `${locale} ${JSON.stringify(options)}`;
  let format = numberFormats.get(key);
  if (!format) {
    format = new Intl.NumberFormat(locale, options);
    numberFormats.set(key, format);
  }
  return format;
}

function dateFormat(locale: string, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  const key = `${locale} ${JSON.stringify(options)}`;
  let format = dateFormats.get(key);
  if (!format) {
    format = new Intl.DateTimeFormat(locale, options);
    dateFormats.set(key, format);
  }
  return format;
}

type Maybe<T> = T | null | undefined;

const isMissing = (value: Maybe<number>): value is null | undefined =>
  value === null || value === undefined || Number.isNaN(value);

/** `1,234.5`. At most `digits` decimals; `fixed` keeps trailing noughts so that a column lines up. */
export function formatNumber(
  value: Maybe<number>,
  digits = 0,
  locale = DEFAULT_LOCALE,
  fixed = false,
): string {
  if (isMissing(value)) return NO_VALUE;
  return numberFormat(locale, {
    maximumFractionDigits: digits,
    minimumFractionDigits: fixed ? digits : 0,
  }).format(value);
}

/** Asks for feet and miles per hour beside metric: the key for measures of Unicode locales (UTS 35). */
const FEET_TOO = "-u-ms-ussystem";

/** The locale of a reader who wants feet and miles per hour shown beside metres and metres per second. */
export const withFeet = (locale: string): string => `${locale}${FEET_TOO}`;

const plainLocale = (locale: string): string => locale.replace(FEET_TOO, "");

/** Exact by the international yard and pound agreement of 1959: a foot is 0.3048 m, a mile 5,280 feet. */
const BESIDE: Readonly<Record<string, { unit: string; per: number; digits: number }>> = {
  m: { unit: "ft", per: 1 / 0.3048, digits: 0 },
  "m/s": { unit: "mph", per: 3600 / 1609.344, digits: 0 },
};

/** Number and unit with a narrow no-break space: `42.5 m`; for who asked for it `42.5 m (139 ft)`. */
export function formatQuantity(
  value: Maybe<number>,
  unit: string,
  digits = 1,
  locale = DEFAULT_LOCALE,
  fixed = false,
): string {
  if (isMissing(value)) return NO_VALUE;
  const metric = `${formatNumber(value, digits, locale, fixed)}${THIN}${unit}`;
  const other = locale.endsWith(FEET_TOO) ? BESIDE[unit] : undefined;
  if (!other) return metric;
  return `${metric} (${formatNumber(value * other.per, other.digits, locale)}${THIN}${other.unit})`;
}

/** The same in a column whose head names the unit: `42.5`; for who asked for it `42.5 (139 ft)`. */
export function formatInColumn(
  value: Maybe<number>,
  unit: string | undefined,
  digits = 0,
  locale = DEFAULT_LOCALE,
): string {
  const metric = formatNumber(value, digits, locale, true);
  const other = unit !== undefined && locale.endsWith(FEET_TOO) ? BESIDE[unit] : undefined;
  if (!other || isMissing(value)) return metric;
  return `${metric} (${formatNumber(value * other.per, other.digits, locale)}${THIN}${other.unit})`;
}

const SPEEDS = /(\d+(?:[.,]\d+)?)(?:( [^\d\s]+ )(\d+(?:[.,]\d+)?))?\s?m\/s/g;

/** A text with speeds in it, such as a verdict's "gust 11.8 of 13.0 m/s": miles per hour beside them for who asked for it. */
export function withSpeedsBeside(text: string, locale: string): string {
  const mph = BESIDE["m/s"];
  if (!mph || !locale.endsWith(FEET_TOO)) return text;
  const inMph = (ms: string) => formatNumber(Number(ms.replace(",", ".")) * mph.per, mph.digits, locale);
  return text.replace(SPEEDS, (metric, first: string, between?: string, second?: string) => {
    const both = second === undefined ? inMph(first) : `${inMph(first)}${between}${inMph(second)}`;
    return `${metric} (${both}${THIN}${mph.unit})`;
  });
}

/** A number of stock units as people say it: `4 rolls`, `1 piece`, `12.5 m`. Units of one letter take no s. */
export function formatAmount(quantity: Maybe<number>, unit: string, locale = DEFAULT_LOCALE): string {
  if (isMissing(quantity)) return NO_VALUE;
  const word = quantity === 1 || unit.length === 1 ? unit : `${unit}s`;
  return `${formatNumber(quantity, 2, locale)}${TIED}${word}`;
}

/** Metres, to the tenth. */
export function formatMetres(lengthM: Maybe<number>, locale = DEFAULT_LOCALE, digits = 1): string {
  return formatQuantity(lengthM, "m", digits, locale);
}

/** Whole centimetres as metres with two decimals: cable adds up on paper. */
export function formatCm(lengthCm: Maybe<number>, locale = DEFAULT_LOCALE): string {
  return isMissing(lengthCm) ? NO_VALUE : `${formatNumber(lengthCm / 100, 2, locale, true)}${THIN}m`;
}

/** Minutes as hours to the tenth: `6.5 h`. Planners compare hours. */
export function formatHours(durationMin: Maybe<number>, locale = DEFAULT_LOCALE, digits = 1): string {
  return isMissing(durationMin) ? NO_VALUE : formatQuantity(durationMin / 60, "h", digits, locale);
}

/** Minutes as hours and minutes: `6 h 30 min`. Crews read a clock. */
export function formatDuration(durationMin: Maybe<number>, locale = DEFAULT_LOCALE): string {
  if (isMissing(durationMin)) return NO_VALUE;
  const whole = Math.round(durationMin);
  const sign = whole < 0 ? "-" : "";
  const hours = Math.floor(Math.abs(whole) / 60);
  const minutes = Math.abs(whole) % 60;
  const parts = [];
  if (hours > 0) parts.push(formatQuantity(hours, "h", 0, locale));
  if (minutes > 0 || hours === 0) parts.push(formatQuantity(minutes, "min", 0, locale));
  return sign + parts.join(" ");
}

/** Wall-clock minutes of the day: `07:30`; beyond midnight `01:00 (+1 day)`. */
export function formatClock(minuteOfDay: Maybe<number>): string {
  if (isMissing(minuteOfDay)) return NO_VALUE;
  const whole = Math.round(minuteOfDay);
  const day = Math.floor(whole / 1440);
  const minute = whole - day * 1440;
  const text = `${String(Math.floor(minute / 60)).padStart(2, "0")}:${String(minute % 60).padStart(2, "0")}`;
  return day === 0 ? text : `${text} (${day > 0 ? "+" : ""}${day} ${Math.abs(day) === 1 ? "day" : "days"})`;
}

/** Share 0..1 as `63%` (or `63 %` where the locale writes it so). */
export function formatShare(share: Maybe<number>, digits = 0, locale = DEFAULT_LOCALE): string {
  if (isMissing(share)) return NO_VALUE;
  return numberFormat(locale, { style: "percent", maximumFractionDigits: digits }).format(share);
}

/** Decimals of a currency: JPY none, EUR two, KWD three. */
export function currencyDigits(currency: string): number {
  const format = numberFormat(DEFAULT_LOCALE, { style: "currency", currency });
  return format.resolvedOptions().maximumFractionDigits ?? 2;
}

/** What a person types as an amount, in whole minor units: "1.35" in EUR is 135. */
export const minorOf = (amount: string, currency: string): number =>
  Math.round(Number(amount) * 10 ** currencyDigits(currency));

/** Whole minor units as a person types them: 135 in EUR is "1.35". */
export const typedMoney = (minor: number, currency: string): string => {
  const digits = currencyDigits(currency);
  return (minor / 10 ** digits).toFixed(digits);
};

/**
 * Whole minor units as money: 123456 and "EUR" give `€1,234.56`.
 * The number of decimals is the currency's own (JPY none, KWD three). `whole` drops them: for totals.
 */
export function formatMoney(
  minor: Maybe<number>,
  currency: string,
  locale = DEFAULT_LOCALE,
  whole = false,
): string {
  if (isMissing(minor)) return NO_VALUE;
  const plain = numberFormat(locale, { style: "currency", currency });
  const digits = plain.resolvedOptions().maximumFractionDigits ?? 2;
  const format = whole
    ? numberFormat(locale, { style: "currency", currency, maximumFractionDigits: 0 })
    : plain;
  return format.format(minor / 10 ** digits);
}

export type DateStyle = "day" | "weekday" | "full" | "month" | "weekdayOnly" | "initial";

const DATE_STYLES: Readonly<Record<DateStyle, Intl.DateTimeFormatOptions>> = {
  /** 3 Mar */
  day: { day: "numeric", month: "short" },
  /** Tue 3 Mar */
  weekday: { weekday: "short", day: "numeric", month: "short" },
  /** Tue 3 Mar 2026 */
  full: { weekday: "short", day: "numeric", month: "short", year: "numeric" },
  /** Mar 2026 */
  month: { month: "short", year: "numeric" },
  /** Tue */
  weekdayOnly: { weekday: "short" },
  /** T */
  initial: { weekday: "narrow" },
};

interface DateWords {
  weekdays: readonly string[];
  months: readonly string[];
  /** What stands after the day's number. */
  afterDay: string;
}

/**
 * Dates in words of our own: servers and browsers carry different editions of the locale data ("Sep" or "Sept", a
 * comma or none), and a page must not change its words while it comes alive.
 */
const DATE_WORDS: Readonly<Record<string, DateWords>> = {
  [DEFAULT_LOCALE]: {
    weekdays: ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"],
    months: ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"],
    afterDay: "",
  },
  "de-DE": {
    weekdays: ["Mo", "Di", "Mi", "Do", "Fr", "Sa", "So"],
    months: ["Jan.", "Feb.", "März", "Apr.", "Mai", "Juni", "Juli", "Aug.", "Sept.", "Okt.", "Nov.", "Dez."],
    afterDay: ".",
  },
};

/** A calendar date in words: `Tue 3 Mar 2026`. No zone is involved: the date is what the site's wall says. */
export function formatDate(
  date: Maybe<CalendarDate>,
  style: DateStyle = "full",
  locale = DEFAULT_LOCALE,
): string {
  if (!date) return NO_VALUE;
  const own = DATE_WORDS[plainLocale(locale)];
  if (!own)
    return dateFormat(locale, { ...DATE_STYLES[style], timeZone: "UTC" }).format(
      dayNumber(date) * 86_400_000,
    );
  const weekday = own.weekdays[weekdayOf(date) - 1] ?? "";
  const month = own.months[Number(date.slice(5, 7)) - 1] ?? "";
  const day = `${Number(date.slice(8, 10))}${own.afterDay}${TIED}${month}`;
  const year = date.slice(0, 4);
  const words: Record<DateStyle, string> = {
    day,
    weekday: `${weekday}${TIED}${day}`,
    full: `${weekday}${TIED}${day} ${year}`,
    month: `${month}${TIED}${year}`,
    weekdayOnly: weekday,
    initial: weekday.slice(0, 1),
  };
  return words[style];
}

/** What stands before a week's number. */
const WEEK_WORDS: Readonly<Record<string, string>> = { [DEFAULT_LOCALE]: "W", "de-DE": "KW " };

/** `W10` or, with the year, `W10 2026` (ISO 8601). */
export function formatWeek(date: Maybe<CalendarDate>, withYear = false, locale = DEFAULT_LOCALE): string {
  if (!date) return NO_VALUE;
  const { year, week } = isoWeek(date);
  const words = `${WEEK_WORDS[plainLocale(locale)] ?? "W"}${week}`;
  return withYear ? `${words} ${year}` : words;
}

/** An instant as a clock in `zone` shows it, with the zone's short name: `Tue 3 Mar 2026, 14:05 CET`. */
export function formatInstant(instant: Maybe<number>, zone: string, locale = DEFAULT_LOCALE): string {
  if (isMissing(instant)) return NO_VALUE;
  const { date, minuteOfDay } = localOf(instant, zone);
  return `${formatDate(date, "full", locale)}, ${formatClock(Math.floor(minuteOfDay))} ${zoneName(instant, zone, locale)}`;
}

/** Short name of a zone at an instant: `CET`, `GMT+5:30`. */
export function zoneName(instant: number, zone: string, locale = DEFAULT_LOCALE): string {
  const parts = dateFormat(locale, { timeZone: zone, timeZoneName: "short" }).formatToParts(instant);
  return parts.find((part) => part.type === "timeZoneName")?.value ?? zone;
}

/** `12 visits`, `1 visit`. `many` where adding an s is wrong. */
export function formatCount(count: number, one: string, many = `${one}s`, locale = DEFAULT_LOCALE): string {
  return `${formatNumber(count, 0, locale)} ${count === 1 ? one : many}`;
}
