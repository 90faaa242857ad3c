"use client";

import { useEffect, useRef } from "react";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { problemWords } from "@/app/_ui/language/problemWords";
import type { Problem } from "@/lib/result";

/**
 * What is wrong said at the field where it was typed, which takes the focus so that it is read out and can be typed
 * again at once. A password is not to be shown as a value in a list. `others` belong to no field.
 */
export function useProblemsAt(problems: readonly Problem[], fields: readonly string[]) {
  const words = useWords();
  const inputs = useRef(new Map<string, HTMLInputElement | null>());
  const first = fields.find((field) => problems.some((p) => p.path === field));
  // Every answer brings problems of its own: the same mistake made twice is told twice.
  // biome-ignore lint/correctness/useExhaustiveDependencies: see above
  useEffect(() => {
    if (first) inputs.current.get(first)?.focus();
  }, [problems, first]);

  /** Name, error and tie of a field's input. */
  const at = (field: string) => {
    const problem = problems.find((p) => p.path === field);
    return {
      name: field,
      error: problem && problemWords(problem, words),
      ref: (input: HTMLInputElement | null) => {
        inputs.current.set(field, input);
      },
    };
  };
  return { at, others: problems.filter((p) => !fields.includes(p.path)) };
}
