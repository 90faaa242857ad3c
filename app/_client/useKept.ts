"use client";

import { useCallback, useEffect, useRef, useState } from "react";
import { forgetDraft, readDraft, writeDraft } from "./useDraft";

export interface Kept<T> {
  value: T;
  set: (next: T | ((now: T) => T)) => void;
  /** What stands was typed at an earlier visit to the page. */
  isTakenUp: boolean;
  /** Saved, or given up: nothing is kept any more. */
  forget: () => void;
  /** Given up, and the form as it began. */
  startAnew: () => void;
}

/**
 * What React holds of a form, kept in the browser until it is saved or given up, so that a page that is left loses
 * nothing (the fields of a plain form: `useDraft`).
 *
 * @param mark of the record as it was opened: what was typed upon an older one is not taken up
 */
export function useKept<T>(name: string, mark: string, start: T): Kept<T> {
  const [value, setValue] = useState(start);
  const [isTakenUp, setTakenUp] = useState(false);
  const now = useRef(start);
  const first = useRef(start);

  useEffect(() => {
    const kept = readDraft<{ mark: string; value: T }>(name);
    if (!kept) return;
    if (kept.mark !== mark) return forgetDraft(name);
    now.current = kept.value;
    setValue(kept.value);
    setTakenUp(true);
  }, [name, mark]);

  const set = useCallback(
    (next: T | ((before: T) => T)) => {
      now.current = typeof next === "function" ? (next as (before: T) => T)(now.current) : next;
      setValue(now.current);
      writeDraft(name, JSON.stringify({ mark, value: now.current }));
    },
    [name, mark],
  );
  const forget = useCallback(() => {
    forgetDraft(name);
    setTakenUp(false);
  }, [name]);
  const startAnew = useCallback(() => {
    forget();
    now.current = first.current;
    setValue(first.current);
  }, [forget]);

  return { value, set, isTakenUp, forget, startAnew };
}
