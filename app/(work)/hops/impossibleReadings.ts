import type { NewReading } from "@/db/queries/acceptance";
import { type AskedReading, isLevelAboveZero, levelAboveZero, outOfBounds } from "@/lib/acceptance";
import type { Problem } from "@/lib/result";
import { readingField } from "./readings";

/** Readings that cannot be, by the names of their fields: what the server would refuse, which a phone may hear of days later. */
export function impossibleReadings(
  readings: readonly NewReading[],
  asked: readonly AskedReading[],
): Problem[] {
  return readings.flatMap(({ askedId, value, targetLevelDbm }): Problem[] => {
    const i = asked.findIndex((a) => a.id === askedId);
    const names = readingField(i);
    const figures = [
      { path: names.value, value, message: value === undefined ? undefined : outOfBounds("value", value) },
      {
        path: names.target,
        value: targetLevelDbm,
        message: targetLevelDbm === undefined ? undefined : outOfBounds("targetLevelDbm", targetLevelDbm),
      },
    ];
    const problems = figures.flatMap(({ path, value, message }): Problem[] =>
      message === undefined
        ? []
        : [
            {
              path,
              rule: "reading-impossible",
              value: value,
              message,
              remedy: "Correct this value and send it again.",
            },
          ],
    );
    return problems.length === 0 && isLevelAboveZero(asked[i]!.kind, value)
      ? [{ path: names.value, rule: "level-above-zero", value, ...levelAboveZero() }]
      : problems;
  });
}
