"use client";

import { NumberInput, Select } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { readingText } from "@/app/_ui/language/readingText";
import type { JudgedReading } from "@/lib/acceptance";
import { readingField } from "./readings";
import { sayReading } from "./sayReading";

const ANSWERS = {
  photos: { yes: "Taken", no: "Not taken" },
  other: { yes: "Passed", no: "Did not pass" },
} as const;

const UNIT_WORDS = { dBm: "dBm", dB: "dB", ohm: "ohm", s: "errored seconds" } as const;

/** One field for each reading, in the order of `readings`; blank = not read now. */
export function ReadingFields({ readings }: { readings: readonly JudgedReading[] }) {
  const words = useWords();
  const { t } = words;
  return (
    <div className="grid gap-3 sm:grid-cols-2">
      {readings.map(({ asked, reading, words: said }, i) => {
        const names = readingField(i);
        const label = capital(sayReading(asked, words));
        const hint = (
          <>
            {reading ? t("Last read: {{reading}}", { reading: "" }) : null}
            {readingText(said, words)}
          </>
        );
        if (asked.form === "passed") {
          const answers = asked.kind === "photos" ? ANSWERS.photos : ANSWERS.other;
          return (
            <Select
              key={asked.id}
              label={label}
              name={names.value}
              hint={hint}
              defaultValue=""
              choices={[
                { value: "", label: t("Not now") },
                { value: "yes", label: t(answers.yes) },
                { value: "no", label: t(answers.no) },
              ]}
            />
          );
        }
        const isWithoutTarget = asked.kind === "receive level" && asked.targetLevelDbm === undefined;
        return (
          <div key={asked.id} className="grid gap-2">
            <NumberInput
              label={label}
              name={names.value}
              unit={t(UNIT_WORDS[asked.form.figure])}
              hint={hint}
              // Levels are below zero, and a phone's decimal keypad may have no minus (common practice).
              inputMode={asked.form.figure === "dBm" ? "text" : "decimal"}
              max={asked.form.figure === "dBm" ? -0.01 : undefined}
            />
            {isWithoutTarget ? (
              <NumberInput
                label={t("Target of {{reading}}", { reading: sayReading(asked, words) })}
                name={names.target}
                unit="dBm"
                defaultValue={reading?.targetLevelDbm}
                hint={t("From the link budget; the design data has none")}
              />
            ) : null}
          </div>
        );
      })}
    </div>
  );
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
