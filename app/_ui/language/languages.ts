/** The languages that screens are said in. English is what the code says; the others stand in `catalogue`. */
import { DEFAULT_LOCALE } from "../format";

export const LANGUAGES = {
  en: { name: "English", locale: DEFAULT_LOCALE },
  de: { name: "Deutsch", locale: "de-DE" },
} as const;

export type Language = keyof typeof LANGUAGES;

/** What the code says. */
export const OWN_LANGUAGE: Language = "en";

/** Chosen on this device, before and after signing in. */
export const LANGUAGE_COOKIE = "bothends-language";

/** Whether this device shows feet and miles per hour beside metric. */
export const FEET_COOKIE = "bothends-feet";

export const isLanguage = (text: string | undefined): text is Language =>
  text !== undefined && Object.hasOwn(LANGUAGES, text);

/**
 * The language of a request: the one chosen on the device, else the first of the browser's that we have.
 * @param accepted the header Accept-Language (RFC 9110, 12.5.4): ranges with weights
 */
export function languageOf(chosen: string | undefined, accepted: string | null): Language {
  if (isLanguage(chosen)) return chosen;
  const ranges = (accepted ?? "")
    .split(",")
    .map((range) => {
      const [tag = "", ...parameters] = range.split(";").map((s) => s.trim().toLowerCase());
      const weight = parameters.find((p) => p.startsWith("q="));
      return { language: tag.split("-")[0], weight: weight ? Number(weight.slice(2)) : 1 };
    })
    .filter((r) => r.weight > 0)
    .sort((a, b) => b.weight - a.weight);
  return ranges.map((r) => r.language).find(isLanguage) ?? OWN_LANGUAGE;
}
