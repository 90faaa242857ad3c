import { SCHEMES } from "@/lib/site";
import { DRIVERS } from "./drivers";

/** Between the reasons of a line that several rules ask for; a screen shows each on its own. */
export const NEXT_REASON = "\n";

/**
 * The sentences that reasons of lines are made of, the more special ones first: what is kept in English is read back by
 * them (`readBack`) and said in another language. `reasonOf`, `cutLength` and the notes of counts write them.
 */
export const LINE_REASONS: readonly string[] = [
  // The whole line.
  "{{n}} = {{sum}}; rounded up to {{m}} over the order",
  "{{n}} = {{m}} rounded up to {{k}} per {{level}}; {{exact}} = {{sum}}",
  "{{n}} m = {{m}} route + {{k}} surplus, rounded up to {{step}} m",
  "{{n}} m = {{m}} route + {{k}} surplus",
  "{{odu}} {{n}} m = {{m}} route + {{k}} surplus, rounded up to {{step}} m",
  "{{odu}} {{n}} m = {{m}} route + {{k}} surplus",
  "{{n}} = {{sum}}",
  // What is counted, and by what it is multiplied.
  "({{sum}} + {{n}})",
  "{{sum}} / {{n}} {{measure}} a {{unit}}",
  "{{sum}} + {{n}} %",
  "{{sum}} x {{n}} {{measure}}",
  "{{sum}} x {{n}}",
  "{{sum}} (each run: {{note}})",
  "{{sum}} ({{note}})",
  // Where it is counted.
  "{{odu}}: {{note}}; {{others}}",
  "{{odu}}: {{note}}",
  "{{n}} on {{m}} m + {{k}} at the drip loop + {{points}} at earthing points + {{wraps}} at wraps",
  "{{n}} m at width ratio {{m}}, {{others}}",
  "{{n}} m at width ratio {{m}}",
  "on {{antenna}} for {{scheme}}",
  "{{place}}, {{others}}",
  "near ODU {{n}} m",
  "structure foot {{n}} m",
  "intermediate {{n}} m",
  "middle {{n}} m",
  "entry {{n}} m",
  "{{odu}} main",
  "{{odu}} standby",
  "{{odu}} channel {{n}}",
  "{{odu}} diversity",
  "{{n}} {{driver}}",
  // The words that stand in their places.
  ...new Set(Object.values(DRIVERS).flatMap(({ one, many }) => [one, many])),
  ...SCHEMES,
  ...["run", "end", "site"],
  ...["piece", "roll", "can", "tube", "pack"],
];
