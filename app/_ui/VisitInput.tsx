"use client";

import { useId } from "react";
import { visitPhrase } from "@/lib/visitIds";
import { TextInput } from "./Field";
import { useWords } from "./language/LanguageProvider";

/** A field for a visit: typed as people see it, or chosen from a list. */
export function VisitInput({
  visitIds,
  onVisit,
  ...shared
}: {
  label: string;
  hint?: string;
  error?: string;
  value: string;
  visitIds: readonly string[];
  onVisit: (text: string) => void;
}) {
  const { say } = useWords();
  const list = useId();
  return (
    <>
      <TextInput
        {...shared}
        maxLength={80}
        list={list}
        autoComplete="off"
        onChange={(e) => onVisit(e.target.value)}
      />
      <datalist id={list}>
        {visitIds.map((id) => {
          const named = visitPhrase(id);
          return <option key={id} value={typeof named === "string" ? named : say(named)} />;
        })}
      </datalist>
    </>
  );
}
