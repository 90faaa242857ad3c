/** The language of the request at hand. */
import { cookies, headers } from "next/headers";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { LANGUAGE_COOKIE, type Language, languageOf } from "@/app/_ui/language/languages";
import { makeWords, type Words } from "@/app/_ui/language/words";

const made = new Map<Language, Words>();

export async function requestLanguage(): Promise<Language> {
  const chosen = (await cookies()).get(LANGUAGE_COOKIE)?.value;
  return languageOf(chosen, (await headers()).get("accept-language"));
}

/** Texts in the language of the request. */
export async function serverWords(): Promise<Words> {
  const language = await requestLanguage();
  let words = made.get(language);
  if (!words) {
    words = makeWords(language, wholeCatalogueOf(language));
    made.set(language, words);
  }
  return words;
}
