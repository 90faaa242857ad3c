"use client";

import { useEffect, useState } from "react";
import { ask } from "@/app/_client/ask";
import { Field } from "@/app/_ui/Field";
import { FindBox, type FindOption } from "@/app/_ui/FindBox";
import { useWords } from "@/app/_ui/language/LanguageProvider";

const SETTLE_MILLIS = 80;
const NOTHING: readonly FindOption[] = [];

export interface SitePickProps {
  label: string;
  value: string;
  onChange: (code: string) => void;
  error: string | undefined;
  isRequired: boolean;
  /** Of the site that stands there when the form opens. */
  name?: string;
}

/** A site by a few letters of its code or name; the server looks for it, since there may be ten thousand. */
export function SitePick({ label, value, onChange, error, isRequired, name }: SitePickProps) {
  const { t } = useWords();
  const [opened] = useState(value);
  const [typed, setTyped] = useState(false);
  const [options, setOptions] = useState(NOTHING);
  const [answered, setAnswered] = useState("");
  const wanted = typed ? value.trim() : "";

  useEffect(() => {
    if (wanted === "") {
      setOptions(NOTHING);
      return;
    }
    const stop = new AbortController();
    const timer = setTimeout(async () => {
      const answer = await ask<{ found: FindOption[] }>(
        "/api/find",
        { q: wanted.slice(0, 100) },
        stop.signal,
      );
      if (stop.signal.aborted) return;
      setAnswered(wanted);
      const found = answer.ok ? answer.value.found.filter((f) => f.group === "Sites") : [];
      setOptions(found.map((f) => ({ ...f, id: f.label, group: t("Sites"), glyph: "sites" })));
    }, SETTLE_MILLIS);
    return () => {
      stop.abort();
      clearTimeout(timer);
    };
  }, [wanted, t]);

  const called = options.find((o) => o.label === value)?.detail ?? (value === opened ? name : undefined);
  return (
    <Field
      label={label}
      error={error}
      required={isRequired}
      hint={called ?? t("A few letters of its code or name, then choose.")}
    >
      {(ids) => (
        <FindBox
          field={{ ...ids, required: isRequired }}
          label={label}
          placeholder=""
          query={value}
          onQuery={(text) => {
            setTyped(true);
            onChange(text);
          }}
          options={options}
          onChoose={(option) => onChange(option.label)}
          isBusy={wanted !== "" && answered !== wanted}
          // The list still answers to earlier letters: its first is not what is meant.
          onEnterEarly={() => undefined}
        />
      )}
    </Field>
  );
}
