"use client";

import { useRouter } from "next/navigation";
import { useKept } from "@/app/_client/useKept";
import { useSend } from "@/app/_client/useSend";
import { decimalMarkOf } from "@/app/_ui/language/decimalMark";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { problemWords } from "@/app/_ui/language/problemWords";
import { Panel } from "@/app/_ui/Panel";
import { sitePath } from "@/app/(work)/hops/hopStates";
import { saveSite } from "../actions";
import { ColumnField, type Suggestion } from "../ColumnField";
import { FormEnd } from "../FormEnd";
import type { FieldSpec } from "../fields";
import { RecordForm } from "../RecordForm";

/** Which fields stand together; the titles are said in the reader's language. */
export const SITE_GROUPS = [
  { title: "Name and place", keys: ["code", "name", "region", "latDeg", "lonDeg", "elevationM", "zone"] },
  { title: "Structure", keys: ["structure", "structureHeightM", "terrain", "hasEarthingBar"] },
  {
    title: "Access",
    keys: ["accessWeekdays", "accessFromMin", "accessToMin", "noticeDays", "allowsTwoCrews"],
  },
] as const;

export interface SiteFormProps {
  /** Under which this browser keeps what is typed until it is saved. */
  keptAs: string;
  fields: readonly FieldSpec[];
  cells: Readonly<Record<string, string>>;
  /** The site that is changed; null for a new one. */
  opened: { code: string; mark: string } | null;
  suggestions: Readonly<Record<string, readonly Suggestion[]>>;
}

export function SiteForm({ fields, cells: start, opened, suggestions, keptAs }: SiteFormProps) {
  const words = useWords();
  const { t, language } = words;
  const router = useRouter();
  const kept = useKept(keptAs, opened?.mark ?? "new", start);
  const { value: cells, set: setCells } = kept;
  const { send, busy, problems } = useSend(saveSite);

  function save(): void {
    send({ opened, decimal: decimalMarkOf(language), cells }, ({ code, fate }) => {
      kept.forget();
      router.push(`${sitePath(code)}?saved=${fate}`);
      return undefined;
    });
  }

  const errorOf = (key: string) => {
    const problem = problems.find((p) => p.path === `site.${key}`);
    return problem && problemWords(problem, words);
  };
  return (
    <RecordForm kept={kept} onSave={save}>
      {SITE_GROUPS.map(({ title, keys }) => (
        <Panel key={title} title={t(title)}>
          <div className="ui-form-row">
            {keys.flatMap((key) => {
              const spec = fields.find((f) => f.key === key);
              if (!spec) return [];
              return (
                <ColumnField
                  key={key}
                  spec={spec}
                  name={`site.${key}`}
                  value={cells[key] ?? ""}
                  onChange={(value) => setCells((now) => ({ ...now, [key]: value }))}
                  error={errorOf(key)}
                  suggestions={suggestions[key]}
                  isFixed={key === "code" && opened !== null}
                />
              );
            })}
          </div>
        </Panel>
      ))}
      <FormEnd
        problems={problems}
        paths={new Set(fields.map((f) => `site.${f.key}`))}
        busy={busy}
        words={opened ? t("Save the changes") : t("Add the site")}
        changePath={(code) => `${sitePath(code)}/change`}
        backPath={opened ? sitePath(opened.code) : "/sites"}
        onLeave={kept.forget}
      />
    </RecordForm>
  );
}
