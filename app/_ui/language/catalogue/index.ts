import type { Language } from "../languages";
import type { Entries } from "../words";
import de from "./de.json";
import en from "./en.json";

const CATALOGUES: Readonly<Record<Language, Entries>> = { en, de };

/** The texts of a language. English holds only what has a plural: all else is said as the code says it. */
export const catalogueOf = (language: Language): Entries => CATALOGUES[language];
