"use client";

import type { RuleChange, WantedChange } from "@/app/_server/ruleChange";
import type { Figure, FigureGroup, FigureValue } from "@/app/_server/ruleFigures/figure";
import { Dialog } from "@/app/_ui/Dialog";
import { NumberInput, Select } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import type { Problem } from "@/lib/result";
import { figureName, figureWords } from "./figureWords";
import { SaveChange } from "./SaveChange";

export interface FigureDialogProps {
  kind: WantedChange["kind"];
  basedOn: number;
  effectFirst: boolean;
  group: FigureGroup | undefined;
  reasonHint?: string;
  onClose: () => void;
}

/** All figures of one group to change at once. */
export function FigureDialog({ group, onClose, ...rest }: FigureDialogProps) {
  const { t, task } = useWords();
  return (
    <Dialog
      open={group !== undefined}
      onClose={onClose}
      title={group ? t("Change: {{title}}", { title: task(group.title) }) : ""}
      wide
    >
      {group ? (
        <SaveChange {...rest} onClose={onClose} readChange={(form) => changesOf(group, form)}>
          <div className="ui-form-row">
            {group.figures.map((f) => (
              <FigureInput key={f.path} figure={f} />
            ))}
          </div>
        </SaveChange>
      ) : null}
    </Dialog>
  );
}

function FigureInput({ figure: f }: { figure: Figure }) {
  const words = useWords();
  const { t } = words;
  const hint = t("Delivered: {{value}}", { value: figureWords(f, f.delivered, words) });
  const shared = { label: figureName(f.label, words), name: f.path, hint };
  if (f.kind === "number")
    return (
      <NumberInput
        {...shared}
        unit={f.unit ? t(f.unit) : f.unit}
        min={f.min}
        max={f.max}
        defaultValue={f.value === null ? "" : String(f.value)}
        hint={f.isOptional ? t("{{hint}}. Empty: no limit.", { hint }) : hint}
      />
    );
  const choices =
    f.kind === "yes/no"
      ? [
          { value: "yes", label: t("yes") },
          { value: "no", label: t("no") },
        ]
      : (f.choices ?? []).map((c) => ({ ...c, label: t(c.label) }));
  const value = f.kind === "yes/no" ? (f.value ? "yes" : "no") : String(f.value);
  return <Select {...shared} choices={choices} defaultValue={value} />;
}

function readValue(f: Figure, text: string): FigureValue {
  if (f.kind === "yes/no") return text === "yes";
  if (f.kind === "choice") return text;
  return text.trim() === "" ? null : Number(text);
}

function changesOf(group: FigureGroup, form: FormData): RuleChange | Problem {
  const figures = group.figures
    .map((f) => ({ path: f.path, value: readValue(f, String(form.get(f.path) ?? "")), was: f.value }))
    .filter((f) => f.value !== f.was)
    .map(({ path, value }) => ({ path, value }));
  if (figures.length > 0) return { figures };
  return {
    path: group.title,
    rule: "nothing-changed",
    message: "No figure differs from the one in force.",
    remedy: "Change a figure, or leave it as it is.",
  };
}
