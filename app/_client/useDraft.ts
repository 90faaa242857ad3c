"use client";

import { type RefObject, useEffect, useRef } from "react";

type Values = Record<string, string>;

/**
 * Keeps what is typed into a form in the browser, so that a closed page or an empty battery loses nothing, until
 * whoever takes it in forgets it (`forgetDraft`). Fields are found by their names; fields that appear with a choice are filled once they are there.
 *
 * @param restored told what was there, for choices that React holds
 */
export function useDraft(
  name: string,
  form: RefObject<HTMLFormElement | null>,
  restored: (values: Values) => void,
): { keep: () => void } {
  const tell = useRef(restored);
  tell.current = restored;

  useEffect(() => {
    const kept = readDraft<Values>(name);
    if (!kept) return;
    tell.current(kept);
    // After the choices have brought their fields.
    const frame = requestAnimationFrame(() => {
      for (const [field, value] of Object.entries(kept)) {
        const element = form.current?.elements.namedItem(field);
        if (isField(element)) element.value = value;
      }
    });
    return () => cancelAnimationFrame(frame);
  }, [name, form]);

  return {
    keep: () => {
      if (!form.current) return;
      const values: Values = {};
      for (const [field, value] of new FormData(form.current)) {
        if (typeof value === "string") values[field] = value;
      }
      writeDraft(name, JSON.stringify(values));
    },
  };
}

/** Forgets what is kept of a form that is not on the page. */
export const forgetDraft = (name: string): void => writeDraft(name, undefined);

const isField = (e: unknown): e is HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement =>
  e instanceof HTMLInputElement || e instanceof HTMLSelectElement || e instanceof HTMLTextAreaElement;

export function readDraft<T>(name: string): T | undefined {
  try {
    const text = localStorage.getItem(name);
    return text === null ? undefined : (JSON.parse(text) as T);
  } catch {
    return undefined;
  }
}

/** A browser that keeps nothing for pages loses the draft, not the page. */
export function writeDraft(name: string, text: string | undefined): void {
  try {
    if (text === undefined) localStorage.removeItem(name);
    else localStorage.setItem(name, text);
  } catch {}
}
