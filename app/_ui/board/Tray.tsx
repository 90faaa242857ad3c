"use client";

import { useState } from "react";
import { folded } from "@/lib/find";
import { Button } from "../Button";
import { Glyph } from "../Glyph";
import { useWords } from "../language/LanguageProvider";
import { startDrag } from "./drag";
import { type BoardVisit, KIND_LOOK } from "./types";

export interface TrayProps {
  visits: readonly BoardVisit[];
  selectedId?: string;
  onSelect: (id: string) => void;
  canDrag: boolean;
}

/** Shown at first: what stands in the tray is work for the browser with every step of the board. */
const FIRST = 40;

/** Visits that the plan has not placed, each with the rule that stops it. */
export function Tray({ visits, selectedId, onSelect, canDrag }: TrayProps) {
  const { t } = useWords();
  const [part, setPart] = useState("");
  const [isWhole, setIsWhole] = useState(false);
  const hits = visits.filter((v) =>
    folded(`${v.hopCode} ${v.siteCode} ${v.rule ?? ""}`).includes(folded(part)),
  );
  const shown = isWhole ? hits : hits.slice(0, FIRST);
  return (
    <section className="ui-tray" aria-label={t("Visits not placed")}>
      <div className="ui-tray-head">
        <h2>
          <Glyph name="unplaced" /> {t("Not placed")}
        </h2>
        <span className="text-quiet">{t("{{count}} visits", { count: visits.length })}</span>
        {visits.length > 8 ? (
          <input
            type="search"
            className="ui-input"
            aria-label={t("Search visits that are not placed")}
            placeholder={t("Hop, site or rule")}
            value={part}
            onChange={(event) => setPart(event.target.value)}
          />
        ) : null}
      </div>
      <ul className="ui-tray-list">
        {shown.map((visit) => (
          <li key={visit.id}>
            <button
              type="button"
              className="ui-tray-visit"
              data-kind={visit.kind}
              aria-pressed={visit.id === selectedId}
              draggable={canDrag}
              onDragStart={(event) => startDrag(event, visit.id)}
              onClick={() => onSelect(visit.id)}
            >
              <span className="font-semibold">
                <Glyph name={KIND_LOOK[visit.kind].glyph} label={t(KIND_LOOK[visit.kind].word)} />{" "}
                {visit.hopCode}
              </span>{" "}
              <span className="text-quiet">{visit.siteCode}</span>
              <span className="ui-tray-rule">{visit.rule ?? t("not tried yet")}</span>
            </button>
          </li>
        ))}
      </ul>
      {hits.length > shown.length ? (
        <p className="px-4 pb-2">
          <Button onClick={() => setIsWhole(true)}>
            {t("Show {{count}} more", { count: hits.length - shown.length })}
          </Button>
        </p>
      ) : null}
    </section>
  );
}
