"use client";

import { type KeyboardEvent, type ReactNode, useMemo, useState } from "react";
import { Select, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { findable, findIn } from "@/lib/find";

export interface ItemSelectProps {
  label: string;
  items: readonly { code: string; name: string }[];
  value: string;
  error?: ReactNode;
  onItem: (code: string) => void;
}

/** A list that is read at a glance needs no search. */
const SHORT_LIST = 12;

/**
 * One item of the catalogue; none until somebody chooses, so that nothing is booked that nobody meant. A few letters of
 * its code or name leave what fits: the only one is taken, of several Enter takes the best.
 */
export function ItemSelect({ label, items, value, error, onItem }: ItemSelectProps) {
  const { t } = useWords();
  const [query, setQuery] = useState("");
  const things = useMemo(() => items.map((i) => ({ ...i, ...findable(i.code, i.name) })), [items]);
  const isAsking = query.trim() !== "";
  const fitting = (asked: string) => (asked.trim() ? findIn(things, asked, things.length) : things);
  const fits = fitting(query);

  function ask(asked: string): void {
    setQuery(asked);
    const now = fitting(asked);
    const only = now.length === 1 ? now[0]!.code : undefined;
    // What was chosen before is not what is asked for now.
    if (only !== undefined && only !== value) onItem(only);
    else if (value !== "" && !now.some((i) => i.code === value)) onItem("");
  }

  function onKeyDown(event: KeyboardEvent): void {
    if (event.key !== "Enter" || !isAsking) return;
    // Enter answers the question; it does not send the form.
    event.preventDefault();
    if (fits[0]) onItem(fits[0].code);
  }

  return (
    <div className="grid gap-2">
      {items.length > SHORT_LIST ? (
        <TextInput
          type="search"
          label={t("Find the item by code or name")}
          value={query}
          maxLength={60}
          autoComplete="off"
          hint={
            isAsking
              ? fits.length === 0
                ? t("No item fits: try fewer letters.")
                : fits.length === 1
                  ? t("{{first}} fits and is taken.", { first: fits[0]!.code })
                  : t("{{count}} items fit; Enter takes {{first}}.", {
                      count: fits.length,
                      first: fits[0]!.code,
                    })
              : undefined
          }
          onChange={(e) => ask(e.target.value)}
          onKeyDown={onKeyDown}
        />
      ) : null}
      <Select
        label={label}
        value={value}
        empty={t("Choose the item")}
        required
        error={error}
        onChange={(e) => onItem(e.target.value)}
        choices={fits.map((i) => ({ value: i.code, label: `${i.code} ${i.name}` }))}
      />
    </div>
  );
}
