/** Texts in a reader's language, with that language's plurals and numbers. */
import i18next from "i18next";
import type { Phrase, PhraseValue } from "@/lib/phrase";
import { formatNumber, formatQuantity, withFeet } from "../format";
import { amountIn, clockIn, daysLateIn, unitIn } from "./amounts";
import { LANGUAGES, type Language } from "./languages";

/** English text to the language's, as in catalogue/de. */
export type Entries = Readonly<Record<string, string>>;

export type Values = Readonly<Record<string, string | number>>;

export interface Words {
  language: Language;
  /** For the formats of numbers, dates and quantities. */
  locale: string;
  /** Whether quantities show feet and miles per hour beside metric. */
  isFeetToo: boolean;
  /**
   * @param text English as the code says it, places in double braces; a text that the catalogue lacks stays English
   * @param values what stands in the places, numbers to two decimals at most; `count` chooses the plural
   */
  t: (text: string, values?: Values) => string;
  /** The name of a task of the norms; of a repeated one what it is repeated for is said apart: "Hoist cable (standby)". */
  task: (name: string) => string;
  /** A sentence that lib made. */
  say: (phrase: Phrase) => string;
  /** A number of stock units: "4 rolls", "12.5 m". */
  amount: (quantity: number | null | undefined, unit: string) => string;
  /** The unit alone, beside a field with the quantity: "rolls", "m". */
  unit: (quantity: number, unit: string) => string;
  /** Signed whole days against a date: "3 days late", "2 days early", "on the day". */
  daysLate: (days: number) => string;
  /** Wall-clock minutes of the day: "07:30"; beyond midnight "01:00 (+1 day)". */
  clock: (minuteOfDay: number | null | undefined) => string;
}

/** @param isFeetToo whether feet and miles per hour are shown beside metric */
export function makeWords(language: Language, entries: Entries, isFeetToo = false): Words {
  const own = LANGUAGES[language].locale;
  const locale = isFeetToo ? withFeet(own) : own;
  const catalogue = i18next.createInstance();
  // Whole sentences are the keys: no sign in them may mean anything. React escapes what it prints.
  void catalogue.init({
    lng: language,
    resources: { [language]: { translation: entries } },
    fallbackLng: false,
    keySeparator: false,
    nsSeparator: false,
    interpolation: { escapeValue: false },
    initAsync: false,
  });
  const t = (text: string, values: Values = {}): string => {
    const said = Object.entries(values).map(([name, value]) => [
      name,
      typeof value === "number" ? formatNumber(value, 2, locale) : value,
    ]);
    // The count itself chooses the plural; what stands in the places is written as the language writes numbers.
    return String(catalogue.t(text, { count: values.count, replace: Object.fromEntries(said) }));
  };
  const said = (value: PhraseValue): string => {
    if (typeof value === "string") return value;
    if ("text" in value) return say(value);
    return value.unit === undefined
      ? formatNumber(value.value, value.digits, locale, true)
      : formatQuantity(value.value, value.unit, value.digits, locale, true);
  };
  // A count stays a number: it chooses the plural.
  const inPlace = (name: string, value: PhraseValue): string | number =>
    name === "count" && typeof value === "object" && "value" in value ? value.value : said(value);
  const say = ({ text, values = {} }: Phrase): string =>
    t(text, Object.fromEntries(Object.entries(values).map(([name, value]) => [name, inPlace(name, value)])));
  const task = (name: string): string => {
    const [, whole, part, of] = /^(.*), part (\d+) of (\d+)$/.exec(name) ?? [];
    if (whole && part && of) return `${task(whole)}, ${t("part {{part}} of {{of}}", { part, of })}`;
    const [, way, no] = /^(.*), ascent (\d+)$/.exec(name) ?? [];
    if (way && no) return `${t(way)}, ${t("ascent {{no}}", { no })}`;
    const [, work, unit] = /^(.*) \(([^()]+)\)$/.exec(name) ?? [];
    return work && unit ? `${t(work)} (${t(unit)})` : t(name);
  };
  return {
    language,
    locale,
    isFeetToo,
    t,
    task,
    say,
    amount: (quantity, unit) => amountIn(t, locale, quantity, unit),
    unit: (quantity, unit) => unitIn(t, quantity, unit),
    daysLate: (days) => daysLateIn(t, days),
    clock: (minuteOfDay) => clockIn(t, minuteOfDay),
  };
}
