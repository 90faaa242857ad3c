"use client";

import { useRouter } from "next/navigation";
import { useKept } from "@/app/_client/useKept";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { decimalMarkOf } from "@/app/_ui/language/decimalMark";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { problemWords } from "@/app/_ui/language/problemWords";
import { Panel } from "@/app/_ui/Panel";
import { hopPath } from "@/app/(work)/hops/hopStates";
import { saveHop } from "../actions";
import { ColumnField } from "../ColumnField";
import { FormEnd } from "../FormEnd";
import type { FieldSpec } from "../fields";
import { RecordForm } from "../RecordForm";
import { SitePick } from "../SitePick";
import type { Suggestions } from "../suggested";
import {
  type Cells,
  equippedAsNear,
  type HopDraft,
  type Part,
  type PartKind,
  partsOut,
  partsToSend,
  SIDES,
  type Side,
  withAnother,
  withHopCell,
  withOut,
  without,
  withPartCell,
} from "./draft";
import { Removals } from "./Removals";

/** Titles of parts and what adds one more; said in the reader's language. */
export const PART_WORDS = {
  antennas: { one: "Antenna {{label}}", add: "Add an antenna", out: "Take antenna {{label}} out" },
  radios: { one: "Radio {{label}}", add: "Add a radio", out: "Take radio {{label}} out" },
  gates: { one: "Gate {{label}}", add: "Add a gate", out: "Take gate {{label}} out" },
} as const;

/** Fields that name something of the catalogue or of this form. */
const CLOSED = new Set(["cableCode", "antennaLabel"]);

/** Names of a row that stands: other data hang on them. */
const NAMES: Readonly<Record<PartKind, readonly string[]>> = {
  ends: [],
  antennas: ["label"],
  radios: ["label"],
  gates: ["side", "kind"],
};

/** Columns of fields: of the hop across the page, of an end beside the other; two on a phone. */
const ACROSS = "grid grid-cols-2 items-start gap-x-3 gap-y-4 sm:grid-cols-3 lg:grid-cols-4";
const OF_GATE = "grid grid-cols-2 items-start gap-x-3 gap-y-4 sm:grid-cols-3 lg:grid-cols-5";
const BESIDE = "grid grid-cols-2 items-start gap-x-3 gap-y-4 sm:grid-cols-3 lg:grid-cols-2 xl:grid-cols-3";

/** Fields that want more than a column: a route anywhere, a date on a phone. */
const WIDE: Readonly<Record<string, string>> = { route: "col-span-2", date: "max-sm:col-span-2" };

const SITE_KEY = { near: "nearSiteCode", far: "farSiteCode" } as const;

export interface HopFormProps {
  /** Under which this browser keeps what is typed until it is saved. */
  keptAs: string;
  fields: Readonly<Record<"hops" | PartKind, readonly FieldSpec[]>>;
  start: HopDraft;
  /** The hop that is changed; null for a new one. */
  opened: { code: string; mark: string } | null;
  suggestions: Suggestions;
  /** Names of the sites that stand at its ends. */
  siteNames: Readonly<Partial<Record<Side, string>>>;
}

export function HopForm({ fields, start, opened, suggestions, siteNames, keptAs }: HopFormProps) {
  const words = useWords();
  const { t, language } = words;
  const router = useRouter();
  const kept = useKept(keptAs, opened?.mark ?? "new", start);
  const { value: draft, set: setDraft } = kept;
  const { send, busy, problems } = useSend(saveHop);

  function save(): void {
    const { cells } = draft;
    const parts = { parts: partsToSend(draft), out: partsOut(draft) };
    send({ opened, decimal: decimalMarkOf(language), cells, ...parts }, ({ code, fate }) => {
      kept.forget();
      router.push(`${hopPath(code)}?saved=${fate}`);
      return undefined;
    });
  }

  const errorOf = (path: string) => {
    const problem = problems.find((p) => p.path === path);
    return problem && problemWords(problem, words);
  };
  const fieldsFor = (kind: "hops" | PartKind, at: string, cells: Cells, fixed: readonly string[]) =>
    fields[kind]
      .filter((f) => f.key !== SITE_KEY.near && f.key !== SITE_KEY.far)
      .map((spec) => (
        <div key={spec.key} className={WIDE[spec.listForm ?? spec.type]}>
          <ColumnField
            spec={spec}
            name={`${at}.${spec.key}`}
            value={cells[spec.key] ?? ""}
            onChange={(value) =>
              setDraft((now) =>
                kind === "hops" ? withHopCell(now, spec.key, value) : withPartCell(now, at, spec.key, value),
              )
            }
            error={errorOf(`${at}.${spec.key}`)}
            suggestions={
              spec.key === "antennaLabel" ? antennasOf(cells.side) : suggestions[`${kind}.${spec.key}`]
            }
            isClosed={CLOSED.has(spec.key)}
            isFixed={fixed.includes(spec.key)}
          />
        </div>
      ));
  const antennasOf = (side: string | undefined) =>
    draft.parts
      .filter((p) => p.kind === "antennas" && p.side === side && p.cells.label && !p.isOut)
      .map((p) => ({ value: p.cells.label ?? "" }));
  const partFields = (part: Part) =>
    fieldsFor(part.kind, part.at, part.cells, part.isStanding ? NAMES[part.kind] : []);

  const nameOf = ({ kind, cells }: Part) => (kind === "gates" ? t(cells.kind ?? "") : (cells.label ?? ""));
  const parts = (kind: Exclude<PartKind, "ends">, side?: Side) => (
    <>
      {draft.parts
        .filter((p) => p.kind === kind && p.side === side)
        .map((part) => {
          const label = nameOf(part);
          const isOut = part.isOut === true;
          return (
            <fieldset key={part.at} className="ui-fieldset grid gap-3 border-t border-line pt-3">
              <legend className="float-left w-full">{t(PART_WORDS[kind].one, { label })}</legend>
              {isOut ? (
                <p className="clear-both">{t("Is taken out when you save.")}</p>
              ) : (
                <div className={`${side ? BESIDE : OF_GATE} clear-both`}>{partFields(part)}</div>
              )}
              {/* Its fields are gone: what is wrong with taking it out stands where they were. */}
              {isOut && errorOf(`${part.at}.label`) ? (
                <div className="ui-field-error" role="alert">
                  {errorOf(`${part.at}.label`)}
                </div>
              ) : null}
              <p>
                <Button
                  size="small"
                  onClick={() =>
                    setDraft((now) =>
                      part.isStanding ? withOut(now, part.at, !isOut) : without(now, part.at),
                    )
                  }
                >
                  {isOut
                    ? t("Keep {{what}}", { what: t(PART_WORDS[kind].one, { label }) })
                    : t(PART_WORDS[kind].out, { label })}
                </Button>
              </p>
            </fieldset>
          );
        })}
      <p>
        <Button glyph="plus" onClick={() => setDraft((now) => withAnother(now, kind, side))}>
          {t(PART_WORDS[kind].add)}
          {side ? <span className="sr-only"> ({t(`${side} end`)})</span> : null}
        </Button>
      </p>
    </>
  );

  const paths = new Set([
    ...fields.hops.map((f) => `hop.${f.key}`),
    ...draft.parts.flatMap((p) => fields[p.kind].map((f) => `${p.at}.${f.key}`)),
  ]);
  return (
    <RecordForm kept={kept} onSave={save}>
      <Panel title={t("Hop")}>
        <div className={ACROSS}>{fieldsFor("hops", "hop", draft.cells, opened ? ["code"] : [])}</div>
      </Panel>
      <div className="grid items-start gap-4 lg:grid-cols-2">
        {SIDES.map((side) => (
          <Panel key={side} title={t(side === "near" ? "Near end" : "Far end")}>
            <div className="grid gap-4">
              <SitePick
                label={t(side === "near" ? "Near site" : "Far site")}
                value={draft.cells[SITE_KEY[side]] ?? ""}
                onChange={(code) => setDraft((now) => withHopCell(now, SITE_KEY[side], code))}
                error={errorOf(`hop.${SITE_KEY[side]}`)}
                isRequired={opened === null}
                name={siteNames[side]}
              />
              <div className={BESIDE}>
                {draft.parts.filter((p) => p.kind === "ends" && p.side === side).flatMap(partFields)}
              </div>
              {side === "far" && opened === null ? (
                <p>
                  <Button size="small" onClick={() => setDraft(equippedAsNear)}>
                    {t("Equip it as the near end")}
                  </Button>
                  <small className="text-quiet block pt-1">
                    {t(
                      "Takes its antennas and radios over, with the other transmit half; heights and cable ways stay.",
                    )}
                  </small>
                </p>
              ) : null}
              {parts("antennas", side)}
              {parts("radios", side)}
            </div>
          </Panel>
        ))}
      </div>
      <Panel
        title={t("Gates")}
        note={t("What must be met before work starts. A gate without a date keeps the hop out of any plan.")}
      >
        <div className="grid gap-4">{parts("gates")}</div>
      </Panel>
      {opened ? <Removals start={start} draft={draft} fields={fields} /> : null}
      <FormEnd
        problems={problems}
        paths={paths}
        busy={busy}
        words={opened ? t("Save the changes") : t("Add the hop")}
        changePath={(code) => `${hopPath(code)}/change`}
        backPath={opened ? hopPath(opened.code) : "/sites?tab=hops"}
        onLeave={kept.forget}
      />
    </RecordForm>
  );
}
