/** Acceptance readings as they travel from a form to the server. */
import { z } from "zod";
import type { NewReading } from "@/db/queries/acceptance";
import type { AskedReading } from "@/lib/acceptance";

export const newReadings = z
  .array(
    z.object({
      askedId: z.string().min(1).max(200),
      value: z
        .number({ error: "Give the reading as a number." })
        .min(-200, "Below -200: check the reading and its unit.")
        .max(1_000_000, "Too large for any reading: check the unit.")
        .optional(),
      passed: z.boolean().optional(),
      targetLevelDbm: z
        .number({ error: "Give the target level as a number." })
        .min(-120, "A target below -120 dBm: check the sign and the unit.")
        .max(10, "A target above 10 dBm: check the sign and the unit.")
        .optional(),
    }),
  )
  .max(60);

/** Names of a reading's fields in a form. */
export const readingField = (index: number) => ({ value: `reading-${index}`, target: `target-${index}` });

/** What was entered; a field left blank is no reading. */
export function readingsFrom(form: FormData, asked: readonly AskedReading[]): NewReading[] {
  const number = (name: string): number | undefined => {
    const text = String(form.get(name) ?? "").trim();
    return text === "" ? undefined : Number(text.replace(",", "."));
  };
  return asked.flatMap((a, i): NewReading[] => {
    const names = readingField(i);
    if (a.form === "passed") {
      const answer = form.get(names.value);
      return answer === "yes" || answer === "no" ? [{ askedId: a.id, passed: answer === "yes" }] : [];
    }
    const value = number(names.value);
    return value === undefined ? [] : [{ askedId: a.id, value, targetLevelDbm: number(names.target) }];
  });
}
