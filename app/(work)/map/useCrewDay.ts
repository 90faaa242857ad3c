"use client";

import { useEffect, useState } from "react";
import type { Problem } from "@/lib/result";
import type { CalendarDate } from "@/lib/time";
import type { CrewDay } from "./crewDay";

export interface DayState {
  value?: CrewDay;
  problems?: readonly Problem[];
}

export const DAY_NOT_REACHED: Problem = {
  path: "day",
  rule: "not-reached",
  message: "The server did not answer, so the crew's day is not shown.",
  remedy: "Choose the day once more when there is a connection.",
};

/** A crew's day from the server; what was shown stays until the answer is there. */
export function useCrewDay(crew: string, day: CalendarDate | undefined): DayState {
  const [state, setState] = useState<DayState & { of?: string }>({});
  const wanted = crew && day ? new URLSearchParams({ crew, day }).toString() : undefined;
  useEffect(() => {
    if (!wanted) return;
    const stop = new AbortController();
    const ask = async () => {
      const answer = await fetch(`/map/day?${wanted}`, { signal: stop.signal });
      const body = (await answer.json()) as CrewDay & { problems?: Problem[] };
      setState(answer.ok ? { value: body, of: wanted } : { problems: body.problems, of: wanted });
    };
    ask().catch(() => {
      if (!stop.signal.aborted) setState({ problems: [DAY_NOT_REACHED], of: wanted });
    });
    return () => stop.abort();
  }, [wanted]);
  return wanted ? state : {};
}
