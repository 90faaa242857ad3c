"use client";

import { useRouter } from "next/navigation";
import { useEffect, useMemo, useRef, useState } from "react";
import { showGoing } from "@/app/_client/going";
import { type Found, useFind } from "@/app/_client/useFind";
import { Dialog } from "@/app/_ui/Dialog";
import { FindBox, type FindOption } from "@/app/_ui/FindBox";
import type { GlyphName } from "@/app/_ui/Glyph";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import type { Words } from "@/app/_ui/language/words";

interface Option extends FindOption {
  href: string;
}

/** The group whose names are words of ours. */
const PAGES = "Pages";

/** Signs of the groups; their names are said in the reader's language. */
export const GLYPHS: Readonly<Record<string, GlyphName>> = {
  [PAGES]: "next",
  Sites: "sites",
  Hops: "planned",
  Crews: "week",
  Items: "stock",
  Orders: "dated",
  Drums: "stock",
  Serials: "stock",
  Kits: "kits",
  Visits: "install",
};

/** What was typed before the field was there. */
export interface EarlyKeys {
  text: string;
  hasEntered: boolean;
  /** When the field was asked for, on the clock of events. */
  since: number;
}

const optionOf = (f: Found, t: Words["t"]): Option => ({
  ...f,
  id: `${f.group} ${f.label}`,
  glyph: GLYPHS[f.group],
  group: t(f.group),
  ...(f.group === PAGES ? { label: t(f.label), detail: t(f.detail) } : {}),
});

export interface FindDialogProps {
  /** Hands over what was typed so far; from then on the field hears the keys. */
  takeEarly: () => EarlyKeys | undefined;
  onClose: () => void;
}

/** Asks the server with every letter and goes to what is chosen. */
export function FindDialog({ takeEarly, onClose }: FindDialogProps) {
  const router = useRouter();
  const { t } = useWords();
  const [query, setQuery] = useState("");
  const { found, isBusy, isLost } = useFind(query);
  // The same list while the answer is the same: another one marks its first anew.
  const options = useMemo(() => found.map((f) => optionOf(f, t)), [found, t]);
  /** Enter came before the answer: its first is meant. */
  const goesToFirst = useRef(false);
  const wanted = query.trim();

  // The dialog has the focus by now: its own effect ran before this one.
  useEffect(() => {
    const early = takeEarly();
    if (!early?.text) return;
    goesToFirst.current = early.hasEntered;
    setQuery((typed) => early.text + typed);
  }, [takeEarly]);

  function go(href: string): void {
    onClose();
    showGoing();
    router.push(href);
  }

  const first = isBusy ? undefined : found[0]?.href;
  // biome-ignore lint/correctness/useExhaustiveDependencies: once, when the answer is there
  useEffect(() => {
    if (!goesToFirst.current || first === undefined) return;
    goesToFirst.current = false;
    go(first);
  }, [first]);

  const hint =
    wanted === ""
      ? t(
          "A few letters of a code, a name or a page: site, hop, visit, crew, item, drum, serial, kit, order.",
        )
      : isBusy
        ? t("Looking …")
        : isLost
          ? t("The server did not answer. Check the connection, then type on.")
          : t("Nothing that you may open is called “{{wanted}}”. Fewer letters find more.", { wanted });
  return (
    <Dialog open onClose={onClose} title={t("Find")} wide>
      <FindBox
        label={t("Find anything")}
        placeholder={t("Code, name or page")}
        query={query}
        onQuery={(typed) => {
          goesToFirst.current = false;
          setQuery(typed);
        }}
        options={options}
        onChoose={({ href }) => go(href)}
        onEnterEarly={() => {
          goesToFirst.current = true;
        }}
        isBusy={isBusy}
        hint={hint}
        isInline
      />
    </Dialog>
  );
}
