"use client";

import { useRouter } from "next/navigation";
import { useRef, useState, useTransition } from "react";
import { useDropGoodToasts, useToast } from "@/app/_ui/Toast";
import type { Problem, Result } from "@/lib/result";
import { newKey } from "./newKey";

export const NOT_REACHED: Problem = {
  path: "",
  rule: "not-reached",
  message: "The server did not answer. It is not known whether this was saved.",
  remedy: "Send it again: it counts once only.",
};

/**
 * Sends an action once per intent: the key stays the same until an answer came, so that a lost answer and a second
 * press move nothing twice.
 */
export function useSend<I, T>(action: (input: I, key?: string) => Promise<Result<T>>) {
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [busy, start] = useTransition();
  const key = useRef<string | null>(null);
  const toast = useToast();
  const dropGood = useDropGoodToasts();
  const router = useRouter();

  function send(input: I, done: (value: T) => string | undefined): void {
    start(async () => {
      key.current ??= newKey();
      let answer: Result<T>;
      try {
        answer = await action(input, key.current);
      } catch {
        dropGood();
        setProblems([NOT_REACHED]);
        return;
      }
      key.current = null;
      if (!answer.ok) {
        dropGood();
        setProblems(answer.problems);
        return;
      }
      setProblems([]);
      const words = done(answer.value);
      if (words) toast({ kind: "good", text: words });
      router.refresh();
    });
  }

  return { send, busy, problems, clear: () => setProblems([]) };
}
