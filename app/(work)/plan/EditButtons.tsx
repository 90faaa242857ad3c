"use client";

import { useEffect, useLayoutEffect, useRef, useState } from "react";
import { Button, ButtonGroup } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { problemWords } from "@/app/_ui/language/problemWords";
import { useToast } from "@/app/_ui/Toast";
import type { Phrase } from "@/lib/phrase";
import { redoEdit, undoEdit } from "./actions";

export interface NamedEdit {
  editNo: number;
  /** "the move of VH001/near/install". */
  name: Phrase;
}

type Direction = "undo" | "redo";

const SEND = { undo: undoEdit, redo: redoEdit } as const;

/** Undo and redo of one's own edits, by button and by Ctrl+Z and Ctrl+Shift+Z; each says what it is about. */
export function EditButtons(props: {
  planId: number;
  undo?: NamedEdit;
  redo?: NamedEdit;
  onDone: () => void;
}) {
  const words = useWords();
  const { t, say } = words;
  const { planId, undo, redo, onDone } = props;
  const toast = useToast();
  const [busy, setBusy] = useState<Direction>();
  const [asks, setAsks] = useState<{ direction: Direction; edit: NamedEdit; broken: readonly string[] }>();

  async function go(direction: Direction, edit: NamedEdit | undefined, acceptsBroken = false): Promise<void> {
    if (!edit || busy) return;
    setBusy(direction);
    const answer = await SEND[direction]({ planId, editNo: edit.editNo, acceptsBroken });
    setBusy(undefined);
    setAsks(undefined);
    const problem = answer.ok ? undefined : answer.problems[0];
    if (problem) toast({ kind: "problem", text: problemWords(problem, words) });
    else if (answer.ok && !answer.value.isDone) {
      setAsks({ direction, edit, broken: answer.value.broken });
      return;
    } else {
      toast({
        kind: "good",
        text:
          direction === "undo"
            ? t("Undone: {{edit}}.", { edit: say(edit.name) })
            : t("Done again: {{edit}}.", { edit: say(edit.name) }),
      });
    }
    onDone();
  }

  const keys = useRef(go);
  const ends = useRef({ undo, redo });
  // Before anything is painted: a key pressed on what one sees is about that.
  useLayoutEffect(() => {
    keys.current = go;
    ends.current = { undo, redo };
  });
  useEffect(() => {
    const hear = (event: KeyboardEvent): void => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey || isTyping(event.target)) return;
      const key = event.key.toLowerCase();
      const direction =
        key === "y" || (key === "z" && event.shiftKey) ? "redo" : key === "z" ? "undo" : undefined;
      if (!direction || !ends.current[direction]) return;
      event.preventDefault();
      void keys.current(direction, ends.current[direction]);
    };
    window.addEventListener("keydown", hear);
    return () => window.removeEventListener("keydown", hear);
  }, []);

  const nameOf = (direction: Direction, edit: NamedEdit | undefined): string => {
    if (!edit) return direction === "undo" ? t("Undo") : t("Redo");
    const name = say(edit.name);
    return direction === "undo" ? t("Undo {{edit}}", { edit: name }) : t("Redo {{edit}}", { edit: name });
  };
  const nothing = { undo: t("Nothing to undo"), redo: t("Nothing to redo") };
  const button = (direction: Direction, edit: NamedEdit | undefined, shortcut: string) => (
    <Button
      size="small"
      glyph={direction}
      className="ui-board-return"
      disabled={!edit || (busy !== undefined && busy !== direction)}
      busy={busy === direction}
      title={edit ? `${nameOf(direction, edit)} (${shortcut})` : nothing[direction]}
      aria-keyshortcuts={shortcut.replace("Ctrl", "Control")}
      onClick={() => go(direction, edit)}
    >
      <span>{nameOf(direction, edit)}</span>
    </Button>
  );
  return (
    <>
      <ButtonGroup label={t("Undo and redo")}>
        {button("undo", undo, "Ctrl+Z")}
        {button("redo", redo, "Ctrl+Shift+Z")}
      </ButtonGroup>
      {asks ? (
        <Dialog
          open
          onClose={() => setAsks(undefined)}
          title={`${nameOf(asks.direction, asks.edit)}?`}
          actions={
            <>
              <Button onClick={() => setAsks(undefined)}>{t("Leave it")}</Button>
              <Button kind="primary" onClick={() => go(asks.direction, asks.edit, true)}>
                {asks.direction === "undo" ? t("Undo all the same") : t("Redo all the same")}
              </Button>
            </>
          }
        >
          <p>
            {t(
              "As the plan is now, it would break {{count}} hard rules. A draft that breaks one cannot be put in force.",
              { count: asks.broken.length },
            )}
          </p>
          <ul>
            {asks.broken.slice(0, 12).map((message) => (
              <li key={message}>{message}</li>
            ))}
          </ul>
        </Dialog>
      ) : null}
    </>
  );
}

/** The browser's own undo belongs to what one is typing in, and a dialog has the keys to itself. */
function isTyping(target: EventTarget | null): boolean {
  const element = target instanceof Element ? target : null;
  return (
    element?.closest("input, textarea, select, [contenteditable=true]") !== null ||
    document.querySelector("dialog[open]") !== null
  );
}
