"use client";

/** Watches one job from the browser: `const job = useJob(id)`. */
import { useEffect, useState } from "react";
import type { JobView } from "@/app/_server/jobView";

export interface WatchedJob<Progress = unknown, Outcome = unknown> {
  state: JobView["state"] | "connecting";
  label: string;
  progress: Progress | null;
  result: Outcome | null;
  /** Why it failed, as a sentence. */
  error: string | null;
  /** Asked to stop, not stopped yet. */
  stopping: boolean;
  /** The connection to the server is interrupted; the job itself goes on. */
  interrupted: boolean;
  /** Asks the server to stop it. */
  cancel: () => Promise<void>;
  /** Starts the same work again and gives the new job's id; undefined when that was refused. */
  restart: () => Promise<string | undefined>;
}

const ENDED = new Set(["done", "failed", "cancelled"]);

export function useJob<Progress = unknown, Outcome = unknown>(
  id: string | null | undefined,
): WatchedJob<Progress, Outcome> | null {
  const [view, setView] = useState<JobView | null>(null);
  const [interrupted, setInterrupted] = useState(false);

  useEffect(() => {
    setView(null);
    setInterrupted(false);
    if (!id) return;
    const source = new EventSource(`/api/jobs/${encodeURIComponent(id)}/stream`);
    source.onmessage = (event) => {
      const next = JSON.parse(event.data) as JobView;
      setView(next);
      setInterrupted(false);
      if (ENDED.has(next.state)) source.close(); // otherwise the browser would connect anew
    };
    source.onerror = () => setInterrupted(true);
    return () => source.close();
  }, [id]);

  if (!id) return null;
  const post = (what: "cancel" | "restart") =>
    fetch(`/api/jobs/${encodeURIComponent(id)}/${what}`, { method: "POST" });
  return {
    state: view?.state ?? "connecting",
    label: view?.label ?? "",
    progress: (view?.progress ?? null) as Progress | null,
    result: (view?.result ?? null) as Outcome | null,
    error: view?.error ?? null,
    stopping: view?.stopping ?? false,
    interrupted,
    cancel: async () => {
      await post("cancel");
    },
    restart: async () => {
      const answer = await (await post("restart")).json();
      return answer.ok ? answer.value.id : undefined;
    },
  };
}
