"use client";

import { NumberInput, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";

export interface CountedFieldsProps {
  /** What was counted, in the reader's words. */
  label: string;
  /** Before the names of both fields: forms on one page keep theirs apart. */
  names: { counted: string; countedBy: string };
  counted: string;
  countedBy: string;
  onCounted: (typed: string) => void;
  onCountedBy: (typed: string) => void;
}

/** How many things a second person counted, and who. */
export function CountedFields(props: CountedFieldsProps) {
  const { t } = useWords();
  return (
    <>
      <NumberInput
        label={props.label}
        name={props.names.counted}
        required
        min={0}
        step={1}
        value={props.counted}
        onChange={(e) => props.onCounted(e.target.value)}
      />
      <TextInput
        label={t("Counted by")}
        name={props.names.countedBy}
        required
        maxLength={120}
        value={props.countedBy}
        onChange={(e) => props.onCountedBy(e.target.value)}
      />
    </>
  );
}
