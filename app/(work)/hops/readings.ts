/** Acceptance readings in a form, on pages that a phone keeps: what reads forms at the server stands apart (newReadings.ts). */
import type { NewReading } from "@/db/queries/acceptance";
import type { AskedReading } from "@/lib/acceptance";

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

/** The form's field that a refusal of the readings sent means by its path, such as "readings[0].value". */
export function readingFieldOf(
  path: string,
  sent: readonly NewReading[],
  asked: readonly AskedReading[],
): string {
  const [, index, part] = /^readings\[(\d+)\](?:\.(\w+))?/.exec(path) ?? [];
  const at = index === undefined ? -1 : asked.findIndex((a) => a.id === sent[Number(index)]?.askedId);
  if (at < 0) return path;
  return part === "targetLevelDbm" ? readingField(at).target : readingField(at).value;
}
