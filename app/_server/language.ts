/** The language of the request at hand. */
import { cookies, headers } from "next/headers";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { FEET_COOKIE, LANGUAGE_COOKIE, type Language, languageOf } from "@/app/_ui/language/languages";
import { makeWords, type Words } from "@/app/_ui/language/words";

const made = new Map<string, Words>();

export async function requestLanguage(): Promise<Language> {
  const chosen = (await cookies()).get(LANGUAGE_COOKIE)?.value;
  return languageOf(chosen, (await headers()).get("accept-language"));
}

/** Whether the device of the request shows feet and miles per hour beside metric. */
export const requestsFeet = async (): Promise<boolean> => (await cookies()).get(FEET_COOKIE)?.value === "yes";

/** Texts in the language of the request. */
export async function serverWords(): Promise<Words> {
  return wordsIn(await requestLanguage(), await requestsFeet());
}

/** Texts in a language that is known otherwise than from a request's cookies. */
export function wordsIn(language: Language, isFeetToo = false): Words {
  const key = `${language} ${isFeetToo}`;
  let words = made.get(key);
  if (!words) {
    words = makeWords(language, wholeCatalogueOf(language), isFeetToo);
    made.set(key, words);
  }
  return words;
}
