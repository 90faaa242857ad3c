import type { Language } from "../languages";
import type { Entries } from "../words";
import deCommon from "./de/common.json";
import deDesign from "./de/design.json";
import deLogistics from "./de/logistics.json";
import dePlanning from "./de/planning.json";
import enCommon from "./en/common.json";
import enDesign from "./en/design.json";
import enLogistics from "./en/logistics.json";
import enPlanning from "./en/planning.json";

/**
 * Texts are kept by area, so that a phone is not sent what only planners read. `common`: the door, the frame, a crew's
 * pages and parts that several areas use. `planning`: programme, plan, map, weather, background work. `logistics`:
 * stock and kits. `design`: sites, hops, import, rules, account.
 */
export type Area = "common" | "planning" | "logistics" | "design";

// English holds only what has a plural, and words with two meanings, whose key says in brackets which is meant ("On
// hold (piece)"): all else is said as the code says it.
const CATALOGUES: Readonly<Record<Language, Readonly<Record<Area, Entries>>>> = {
  en: { common: enCommon, planning: enPlanning, logistics: enLogistics, design: enDesign },
  de: { common: deCommon, planning: dePlanning, logistics: deLogistics, design: deDesign },
};

/** What the browser needs for the pages of an area. */
export const catalogueOf = (language: Language, area: Area): Entries => ({
  ...CATALOGUES[language].common,
  ...CATALOGUES[language][area],
});

/** Every text of a language: for the server, which sends only what it says. */
export const wholeCatalogueOf = (language: Language): Entries =>
  Object.assign({}, ...Object.values(CATALOGUES[language])) as Entries;
