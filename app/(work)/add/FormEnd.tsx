"use client";

import Link from "next/link";
import { useEffect, useRef } from "react";
import { Button, LinkButton } from "@/app/_ui/Button";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { messageOf, remedyOf } from "@/app/_ui/language/problemWords";
import { Notice } from "@/app/_ui/Notice";
import type { Problem } from "@/lib/result";

export interface FormEndProps {
  problems: readonly Problem[];
  /** Paths of the fields that are shown: their problems stand beside them. */
  paths: ReadonlySet<string>;
  busy: boolean;
  /** On the button that sends. */
  words: string;
  /** Where the record of that code is changed, when the code is taken. */
  changePath: (code: string) => string;
  backPath: string;
  /** The page is left without saving. */
  onLeave: () => void;
}

/** What is wrong with the form as a whole, and the two ways out of it. */
export function FormEnd({ problems, paths, busy, words, changePath, backPath, onLeave }: FormEndProps) {
  const said = useWords();
  const { t } = said;
  const root = useRef<HTMLDivElement>(null);
  const [first] = problems;
  const beside = problems.filter((p) => paths.has(p.path)).length;
  const others = problems.filter((p) => !paths.has(p.path));
  const taken = problems.find((p) => p.rule === "site-exists" || p.rule === "hop-exists");
  // Where many fields stand, the first that is wrong may be far above what was pressed.
  useEffect(() => {
    if (!first) return;
    const form = root.current?.closest("form");
    const wrong = form?.querySelector<HTMLElement>("[aria-invalid=true]");
    if (wrong) wrong.focus();
    else root.current?.scrollIntoView({ block: "nearest" });
  }, [first]);
  return (
    <div className="grid gap-3" ref={root}>
      {beside > 0 ? (
        <Notice
          kind="problem"
          announce
          title={t("{{count}} fields to look at; nothing was saved", { count: beside })}
          action={
            taken ? (
              <Link href={changePath(String(taken.value))}>
                {t("Change {{code}} instead", { code: String(taken.value) })}
              </Link>
            ) : undefined
          }
        >
          {t("What is wrong, and what to do, stands under each. What you typed is still there.")}
        </Notice>
      ) : null}
      {others.map((p) => (
        <Notice key={`${p.path} ${p.rule}`} kind="problem" announce title={messageOf(p, said)}>
          {remedyOf(p, said)}
        </Notice>
      ))}
      <div className="ui-form-actions">
        <Button kind="primary" type="submit" busy={busy}>
          {words}
        </Button>
        <LinkButton href={backPath} onClick={onLeave}>
          {t("Leave without saving")}
        </LinkButton>
      </div>
    </div>
  );
}
