/**
 * The texts of verdicts as sentences with places ({{n}} and {{m}} are numbers), so that a screen can read them back and
 * say them in its reader's language. More special ones stand first.
 */
import { LIMITING_FACTORS } from "./types";

export const VERDICT_TEXTS: readonly string[] = [
  ...LIMITING_FACTORS.filter((factor) => factor !== "none"),
  ...["degC", "rain in the hours before", "thunder in the hours before", "outside the series"],
  "no limit from the weather",
  "near end: {{near}}; far end: {{far}}",
  "near end: {{verdict}}",
  "far end: {{verdict}}",
  "{{verdict}}; met in {{n}} % of the forecast's courses",
  "{{factor}} {{n}} > {{m}} {{unit}}",
  "{{factor}} {{n}} < {{m}} {{unit}}",
  "dry for {{n}} of {{m}} h",
  "{{factor}} {{n}} of {{m}} {{unit}}",
  "{{factor}} {{n}}, limit {{m}} degC",
  "thunder within reach",
  "thunder {{n}} h ago: wait {{m}} h after the last",
  "icing: wet at {{n}} degC",
  "icing: wet {{n}} h ago, {{m}} degC",
  "outside daylight, {{from}} to {{to}}",
  "outside daylight",
  "no data: {{what}}",
  "{{one}}, {{other}}",
];
