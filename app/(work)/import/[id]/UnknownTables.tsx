"use client";

import { useRouter } from "next/navigation";
import { useState, useTransition } from "react";
import { Select } from "@/app/_ui/Field";
import { Notice } from "@/app/_ui/Notice";
import type { KindName } from "@/lib/exchange";
import type { Problem } from "@/lib/result";
import { answerTable } from "../actions";
import type { KindWords } from "../kinds";

interface UnknownTableProps {
  importId: string;
  seq: number;
  sheet: string;
  name: string;
  words: string;
  kinds: readonly KindWords[];
}

/** A table that nothing was known about: the person says what it holds, or leaves it. */
export function UnknownTable({ importId, seq, sheet, name, words, kinds }: UnknownTableProps) {
  const router = useRouter();
  const [busy, start] = useTransition();
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  return (
    <Notice kind={problems.length > 0 ? "problem" : "warn"} title={name}>
      <p>{problems[0]?.message ?? words}</p>
      <div className="max-w-sm">
        <Select
          label={`Read ${name} as`}
          empty="leave it"
          value=""
          disabled={busy}
          choices={kinds.map((k) => ({ value: k.name, label: k.title }))}
          onChange={(event) => {
            const kind = event.target.value as KindName;
            start(async () => {
              const answer = await answerTable({ importId, seq, sheet, answers: { kind } });
              setProblems(answer.ok ? [] : answer.problems);
              router.refresh();
            });
          }}
        />
      </div>
    </Notice>
  );
}
