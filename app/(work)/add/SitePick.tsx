"use client";

import { useMemo, useState } from "react";
import { useFind } from "@/app/_client/useFind";
import { Field } from "@/app/_ui/Field";
import { FindBox } from "@/app/_ui/FindBox";
import { useWords } from "@/app/_ui/language/LanguageProvider";

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
  const { found, isBusy } = useFind(typed ? value : "");
  // The same list while the answer is the same: another one marks its first anew.
  const options = useMemo(
    () =>
      found
        .filter((f) => f.group === "Sites")
        .map((f) => ({ ...f, id: f.label, group: t("Sites"), glyph: "sites" as const })),
    [found, t],
  );
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
          isBusy={isBusy}
          // The list still answers to earlier letters: its first is not what is meant.
          onEnterEarly={() => undefined}
        />
      )}
    </Field>
  );
}
