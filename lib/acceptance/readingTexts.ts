import type { ReadingKind } from "./types";

/*
 * What is said of readings, as sentences with places, so that a screen can read a text back and say it in its reader's
 * language: revisits keep why they are needed as text. More special ones stand first; {{n}}, {{m}} and {{k}} are numbers,
 * {{code}} is a name.
 */

/** Figure and limit: acceptance.ts. */
const FIGURES = [
  "{{n}} dBm, no target from the link budget yet",
  "{{n}} dBm, on the target of {{m}} dBm ({{k}} dB allowed)",
  "{{n}} dBm, {{m}} dB below the target of {{k}} dBm ({{allowed}} dB allowed)",
  "{{n}} dBm, {{m}} dB above the target of {{k}} dBm ({{allowed}} dB allowed)",
  "{{n}} dBm, within {{m}} dB",
  "within {{n}} dB of the link budget's target",
  "{{n}} dB (at least {{m}} dB)",
  "at least {{n}} dB",
  "{{n}} ohm (at most {{m}} ohm)",
  "at most {{n}} ohm",
  "{{n}} errored seconds in {{m}} h (at most {{k}})",
  "{{n}} h with at most {{m}} errored seconds",
  "of the end as it stands",
  "traffic goes over to the standby and back",
  "traffic went over to the standby and back",
  "taken",
  "not taken yet",
  "did not pass",
];

/** Of which only one can be: photos that are not there are missing, they never fail. */
const FAILING: readonly ReadingKind[] = ["cross-polar", "switch-over", "earth resistance", "error run"];

/** What failed or is missing, and where: remedies.ts, lacking.ts. */
const NAMED = [
  "missing: {{readings}}; {{n}} more",
  "missing: {{readings}}",
  "near end, {{what}}; {{others}}",
  "far end, {{what}}; {{others}}",
  "near end, {{what}}",
  "far end, {{what}}",
  "receive level {{code}}: {{figures}}",
  "receive level {{code}} failed",
  "receive level {{code}}",
  ...FAILING.flatMap((kind) => [`${kind}: {{figures}}`, `${kind} failed`, kind]),
  "photos",
];

export const READING_TEXTS: readonly string[] = [...FIGURES, ...NAMED];
