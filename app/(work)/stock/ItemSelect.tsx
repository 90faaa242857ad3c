"use client";

import { type KeyboardEvent, type ReactNode, useMemo, useState } from "react";
import { Select, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { findable, findIn } from "@/lib/find";

export interface ItemSelectProps {
  label: string;
  items: readonly { code: string; name: string }[];
  value: string;
  /** First entry with no item; without it some item is always chosen. */
  empty?: string;
  required?: boolean;
  error?: ReactNode;
  onItem: (code: string) => void;
}

/** A list that is read at a glance needs no search. */
const SHORT_LIST = 12;

/** One item of the catalogue. A few letters of its code or name leave what fits; Enter takes the best of it. */
export function ItemSelect({ label, items, value, empty, required, error, onItem }: ItemSelectProps) {
  const { t } = useWords();
  const [query, setQuery] = useState("");
  const things = useMemo(() => items.map((i) => ({ ...i, ...findable(i.code, i.name) })), [items]);
  const isAsking = query.trim() !== "";
  const fits = isAsking ? findIn(things, query, things.length) : things;
  // What is chosen stays in the list, whatever is asked.
  const chosen = things.find((i) => i.code === value);
  const shown = chosen && !fits.includes(chosen) ? [chosen, ...fits] : fits;

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
                : t("{{count}} items fit; Enter takes {{first}}.", {
                    count: fits.length,
                    first: fits[0]!.code,
                  })
              : undefined
          }
          onChange={(e) => setQuery(e.target.value)}
          onKeyDown={onKeyDown}
        />
      ) : null}
      <Select
        label={label}
        value={value}
        empty={empty}
        required={required}
        error={error}
        onChange={(e) => onItem(e.target.value)}
        choices={shown.map((i) => ({ value: i.code, label: `${i.code} ${i.name}` }))}
      />
    </div>
  );
}
