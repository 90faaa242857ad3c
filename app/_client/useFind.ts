"use client";

import { useEffect, useState } from "react";
import { ask } from "./ask";

export interface Found {
  group: string;
  label: string;
  detail: string;
  href: string;
}

export interface FindAnswer {
  found: readonly Found[];
  /** The answer is still that to earlier letters. */
  isBusy: boolean;
  /** The server did not answer. */
  isLost: boolean;
}

/** Letters that come so fast after each other are asked for together. */
const SETTLE_MILLIS = 80;
/** What the server reads of it. */
const LONGEST = 100;
const NOTHING: readonly Found[] = [];

/** What the server finds under the letters that stand in a field, a moment after the last of them. */
export function useFind(query: string): FindAnswer {
  const wanted = query.trim();
  const [answer, setAnswer] = useState({ to: "", found: NOTHING, isLost: false });
  useEffect(() => {
    if (wanted === "") {
      setAnswer({ to: "", found: NOTHING, isLost: false });
      return;
    }
    const stop = new AbortController();
    const timer = setTimeout(async () => {
      const said = await ask<{ found: Found[] }>("/api/find", { q: wanted.slice(0, LONGEST) }, stop.signal);
      if (!stop.signal.aborted)
        setAnswer({ to: wanted, found: said.ok ? said.value.found : NOTHING, isLost: !said.ok });
    }, SETTLE_MILLIS);
    return () => {
      stop.abort();
      clearTimeout(timer);
    };
  }, [wanted]);
  return { found: answer.found, isLost: answer.isLost, isBusy: wanted !== "" && answer.to !== wanted };
}
