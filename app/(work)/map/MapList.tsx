"use client";

import { useState } from "react";
import { Button, ButtonGroup } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { HopStateMark } from "../hops/HopStateMark";
import type { Picked } from "./draw";
import type { MapHopRow, MapSiteRow } from "./scene";

const PAGE = 80;

export interface MapListProps {
  hops: readonly MapHopRow[];
  sites: readonly MapSiteRow[];
  kind: Picked["kind"];
  onKind: (kind: Picked["kind"]) => void;
  picked?: Picked;
  onPick: (picked: Picked) => void;
}

/** What the map draws, in words: the way by key and by screen reader. A press shows the thing on the map. */
export function MapList({ hops, sites, kind, onKind, picked, onPick }: MapListProps) {
  const { t } = useWords();
  const [most, setMost] = useState(PAGE);
  const rows: readonly (MapHopRow | MapSiteRow)[] = kind === "hop" ? hops : sites;
  // The chosen one is in the list however far down it stands.
  const shown = rows.slice(0, most);
  const chosen = picked?.kind === kind ? rows.find((r) => r.code === picked.code) : undefined;
  const list = chosen && !shown.includes(chosen) ? [chosen, ...shown] : shown;
  const rest = rows.length - shown.length;
  return (
    <div>
      <div className="p-3">
        <ButtonGroup label={t("What the list holds")}>
          <Button aria-pressed={kind === "hop"} onClick={() => onKind("hop")}>
            {t("{{count}} hops", { count: hops.length })}
          </Button>
          <Button aria-pressed={kind === "site"} onClick={() => onKind("site")}>
            {t("{{count}} sites", { count: sites.length })}
          </Button>
        </ButtonGroup>
      </div>
      {rows.length === 0 ? (
        <EmptyState title={t("Nothing passes the filters")}>{t("Take one of them away.")}</EmptyState>
      ) : (
        <ul
          className="ui-atlas-list"
          aria-label={kind === "hop" ? t("Hops on the map") : t("Sites on the map")}
        >
          {list.map((row) => (
            <li key={row.code}>
              <button
                type="button"
                aria-pressed={picked?.kind === kind && picked.code === row.code}
                onClick={() => onPick({ kind, code: row.code })}
              >
                <span>{row.code}</span>
                <span>
                  {"nearSite" in row
                    ? t("{{from}} to {{to}}", { from: row.nearSite ?? "–", to: row.farSite ?? "–" })
                    : row.name}
                </span>
                <HopStateMark state={row.state} />
              </button>
            </li>
          ))}
          {rest > 0 ? (
            <li className="p-3">
              <Button onClick={() => setMost(most + PAGE)}>
                {t("Show {{next}} of {{rest}} more", { next: Math.min(PAGE, rest), rest })}
              </Button>
            </li>
          ) : null}
        </ul>
      )}
    </div>
  );
}
