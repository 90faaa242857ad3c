"use client";

import { formatDate } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Notice } from "@/app/_ui/Notice";
import type { CalendarDate } from "@/lib/time";
import type { FieldSpec } from "../fields";
import { emptied, type HopDraft, type Part, type PartKind } from "./draft";

export interface RemovalsProps {
  start: HopDraft;
  draft: HopDraft;
  fields: Readonly<Record<"hops" | PartKind, readonly FieldSpec[]>>;
}

/** What saving takes out, before it is saved: said where it is more than a single value. */
export function Removals({ start, draft, fields }: RemovalsProps) {
  const { t, locale } = useWords();
  const wordsOf = ({ type, choices }: FieldSpec, was: string): string => {
    if (type === "date") return formatDate(was as CalendarDate, "full", locale);
    return choices || type === "boolean" ? t(was) : was;
  };
  const endOf = (side: string | undefined) => (side ? `${t(`${side} end`)}: ` : "");
  const nameOf = ({ kind, cells }: Part): string => {
    if (kind === "antennas") return t("Antenna {{label}}", { label: cells.label ?? "" });
    if (kind === "radios") return t("Radio {{label}}", { label: cells.label ?? "" });
    return kind === "gates" ? t("Gate {{label}}", { label: t(cells.kind ?? "") }) : "";
  };
  const gone = draft.parts.filter((p) => p.isOut);
  const values = emptied(start, draft).flatMap(({ part, key, was }) => {
    const field = fields[part?.kind ?? "hops"].find((f) => f.key === key);
    // A field that has a usual value takes that one; one that must be filled is asked for.
    if (!field || field.usual !== undefined || field.isRequired) return [];
    return [{ part, field, was }];
  });
  if (gone.length === 0 && values.length < 2) return null;
  return (
    <Notice kind="warn" title={t("Saving takes this out")}>
      <ul className="list-disc pl-5">
        {gone.map((p) => (
          <li key={p.at}>
            {endOf(p.cells.side)}
            {p.kind === "radios"
              ? t("{{radio}} with its cable run; a piece that was cut already stays in stock", {
                  radio: nameOf(p),
                })
              : nameOf(p)}
          </li>
        ))}
        {values.map(({ part, field, was }) => (
          <li key={`${part?.at ?? "hop"}.${field.key}`}>
            {part ? endOf(part.cells.side) : ""}
            {part && part.kind !== "ends" ? `${nameOf(part)}, ` : ""}
            {t(field.label)}: {wordsOf(field, was)} {field.unit ? t(field.unit) : ""}
          </li>
        ))}
      </ul>
    </Notice>
  );
}
