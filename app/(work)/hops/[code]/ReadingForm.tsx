"use client";

import { useRouter } from "next/navigation";
import { type FormEvent, useRef, useState } from "react";
import { newKey } from "@/app/_client/newKey";
import { Button } from "@/app/_ui/Button";
import { Check, DateInput, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { ProblemList } from "@/app/_ui/ProblemList";
import { useToast } from "@/app/_ui/Toast";
import type { NewReading } from "@/db/queries/acceptance";
import type { JudgedReading } from "@/lib/acceptance";
import type { Problem } from "@/lib/result";
import { ReadingFields } from "../ReadingFields";
import { readingFieldOf, readingsFrom } from "../readings";
import { recordReadings } from "./actions";

/** Readings entered at the desk; what stays blank is not touched. */
export function ReadingForm({
  hopCode,
  readings,
  today,
}: {
  hopCode: string;
  readings: readonly JudgedReading[];
  today: string;
}) {
  const { t } = useWords();
  const router = useRouter();
  const show = useToast();
  // One key per intent: a retry after a lost answer carries the same one.
  const key = useRef<string>(undefined);
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [sent, setSent] = useState<readonly NewReading[]>([]);
  const [busy, setBusy] = useState(false);

  const asked = readings.map((r) => r.asked);

  async function save(event: FormEvent<HTMLFormElement>): Promise<void> {
    event.preventDefault();
    const element = event.currentTarget;
    const form = new FormData(element);
    key.current ??= newKey();
    const entered = readingsFrom(form, asked);
    setBusy(true);
    const result = await recordReadings(
      {
        hopCode,
        takenOn: String(form.get("takenOn")),
        note: String(form.get("note") ?? ""),
        isCorrection: form.get("isCorrection") !== null,
        readings: entered,
      },
      key.current,
    );
    setBusy(false);
    setSent(entered);
    setProblems(result.ok ? [] : result.problems);
    if (!result.ok) return;
    key.current = undefined;
    const { opened, withdrawn } = result.value;
    show({
      kind: opened.length > 0 ? "info" : "good",
      text:
        opened.length > 0
          ? t("Readings stored. A failed one opened {{count}} revisits.", { count: opened.length })
          : withdrawn.length > 0
            ? t("Readings stored. {{count}} revisits withdrawn that only the wrong ones asked for.", {
                count: withdrawn.length,
              })
            : t("Readings stored."),
    });
    element.reset();
    router.refresh();
  }

  return (
    <form onSubmit={save} className="grid gap-3">
      <DateInput label={t("Taken on")} name="takenOn" defaultValue={today} max={today} required />
      <ReadingFields readings={readings} />
      {readings.some((r) => r.reading) ? (
        <Check
          name="isCorrection"
          label={t(
            "What was entered before was wrong: it counts no more, and a revisit that only it asked for is withdrawn.",
          )}
        />
      ) : null}
      <TextInput label={t("Note")} name="note" maxLength={500} />
      <ProblemList problems={problems} fieldName={(path) => readingFieldOf(path, sent, asked)} />
      <div>
        <Button type="submit" kind="primary" busy={busy}>
          {t("Store readings")}
        </Button>
      </div>
    </form>
  );
}
