/** The decimal mark of a language, as people who read it type numbers. */
import type { Language } from "./languages";

export const decimalMarkOf = (language: Language): "point" | "comma" =>
  language === "de" ? "comma" : "point";
