"use client";

import { useRouter } from "next/navigation";
import { useState, useTransition } from "react";
import { Select } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { messageOf } from "@/app/_ui/language/problemWords";
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
  const spoken = useWords();
  const { t } = spoken;
  const router = useRouter();
  const [busy, start] = useTransition();
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  return (
    <Notice kind={problems.length > 0 ? "problem" : "warn"} title={name}>
      <p>{problems[0] ? messageOf(problems[0], spoken) : words}</p>
      <div className="max-w-sm">
        <Select
          label={t("Read {{name}} as", { name })}
          empty={t("leave it")}
          value=""
          disabled={busy}
          choices={kinds.map((k) => ({ value: k.name, label: t(k.title) }))}
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
