"use client";

import Link from "next/link";
import { useCallback, useEffect, useMemo, useRef, useState } from "react";
import { LINES, PLAIN_LINE } from "@/app/_ui/drawings/lineLooks";
import { Select, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Panel } from "@/app/_ui/Panel";
import { type PackedRows, unpackRows } from "@/app/_ui/packRows";
import { StateMark } from "@/app/_ui/StateMark";
import { toWorld } from "@/lib/geo";
import { GROUPED_FROM, type MapView, type Outline } from "@/lib/map";
import type { CalendarDate } from "@/lib/time";
import { HOP_STATE, sitePath } from "../hops/hopStates";
import { choiceAddress, type MapChoice } from "./address";
import { DayPanel } from "./DayPanel";
import type { Picked } from "./draw";
import { MapCanvas, type Wish } from "./MapCanvas";
import { MapList } from "./MapList";
import { PickedPanel } from "./PickedPanel";
import {
  buildScene,
  type Filters,
  hopsThatPass,
  type MapHopRow,
  type MapSiteRow,
  type SceneOutline,
  sceneOutlines,
  sitesThatPass,
} from "./scene";
import { useCrewDay } from "./useCrewDay";

export interface MapDeskProps {
  /** `{ sites, hops }`, packed, as JSON text. */
  rowsJson: string;
  crews: readonly { code: string; name: string }[];
  today: CalendarDate;
  firstDay?: CalendarDate;
  lastDay?: CalendarDate;
  outlines?: { version: number; label: string };
  tiles?: { template: string; attribution: string };
  choice: MapChoice;
  mayImport: boolean;
}

/** At this zoom a site that was chosen in the list is seen with its neighbours. */
const ZOOM_OF_CHOICE = 11;
const ADDRESS_AFTER_MILLIS = 300;

export function MapDesk(props: MapDeskProps) {
  const { t } = useWords();
  const { rowsJson, crews, today, tiles, choice, mayImport } = props;
  const { sites, hops } = useMemo(() => {
    const packed = JSON.parse(rowsJson) as { sites: PackedRows; hops: PackedRows };
    return { sites: unpackRows<MapSiteRow>(packed.sites), hops: unpackRows<MapHopRow>(packed.hops) };
  }, [rowsJson]);
  const [filters, setFilters] = useState<Filters>(choice.filters);
  const [day, setDay] = useState<CalendarDate>(choice.day ?? today);
  const [picked, setPicked] = useState<Picked | undefined>(choice.picked);
  const [kind, setKind] = useState<Picked["kind"]>(choice.picked?.kind ?? "hop");
  const [wish, setWish] = useState<Wish>({ view: choice.view });
  const outlines = useOutlines(props.outlines?.version);
  const crewDay = useCrewDay(filters.crew, day);

  const shownHops = useMemo(() => hopsThatPass(hops, filters), [hops, filters]);
  const shownSites = useMemo(() => sitesThatPass(sites, shownHops, filters), [sites, shownHops, filters]);
  const scene = useMemo(() => buildScene(sites, shownSites, shownHops), [sites, shownSites, shownHops]);
  const lost = useMemo(() => sites.filter((s) => s.latDeg === null && !s.isOutside), [sites]);
  const siteByCode = useMemo(() => new Map(sites.map((s) => [s.code, s])), [sites]);

  const view = useRef(choice.view);
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);
  const keepAddress = useCallback((now: Omit<MapChoice, "view">) => {
    clearTimeout(timer.current);
    timer.current = setTimeout(
      () => window.history.replaceState(null, "", choiceAddress({ ...now, view: view.current })),
      ADDRESS_AFTER_MILLIS,
    );
  }, []);
  const now = useRef({ filters, day, picked });
  useEffect(() => {
    now.current = { filters, day, picked };
    keepAddress(now.current);
    return () => clearTimeout(timer.current);
  }, [filters, day, picked, keepAddress]);
  const onView = useCallback(
    (next: MapView) => {
      view.current = next;
      keepAddress(now.current);
    },
    [keepAddress],
  );

  function pick(next: Picked | undefined): void {
    setPicked(next);
    if (next) setKind(next.kind);
  }
  /** From the list: the map goes there, too. */
  function show(next: Picked): void {
    pick(next);
    const middle = middleOf(next, hops, siteByCode);
    if (middle) setWish({ view: { ...middle, zoom: Math.max(view.current?.zoom ?? 0, ZOOM_OF_CHOICE) } });
  }
  const change = (part: Partial<Filters>) => setFilters((f) => ({ ...f, ...part }));

  const states = [...new Set(hops.map((h) => h.state))];
  const regions = [...new Set([...sites.filter((s) => !s.isOutside), ...hops].map((r) => r.region))]
    .filter(Boolean)
    .sort();
  const pickedHop = picked?.kind === "hop" ? hops.find((h) => h.code === picked.code) : undefined;
  const pickedSite = picked?.kind === "site" ? siteByCode.get(picked.code) : undefined;
  const grouped =
    scene.sites.length >= GROUPED_FROM ? t(" Sites close together are one ring with their number.") : "";

  return (
    <div className="grid grid-cols-[minmax(0,1fr)] gap-4">
      <search className="grid grid-cols-2 gap-3 lg:grid-cols-4">
        <TextInput
          label={t("Code or name")}
          type="search"
          value={filters.text}
          onChange={(event) => change({ text: event.target.value })}
        />
        <Select
          label={t("State")}
          empty={t("All states")}
          value={filters.state}
          onChange={(event) => change({ state: event.target.value })}
          choices={states.map((state) => ({ value: state, label: t(HOP_STATE[state].word) }))}
        />
        <Select
          label={t("Region")}
          empty={t("All regions")}
          value={filters.region}
          onChange={(event) => change({ region: event.target.value })}
          choices={regions.map((region) => ({ value: region, label: region }))}
        />
        <Select
          label={t("Crew")}
          empty={t("All crews")}
          value={filters.crew}
          onChange={(event) => change({ crew: event.target.value })}
          choices={crews.map((c) => ({ value: c.code, label: `${c.code} ${c.name}` }))}
        />
      </search>
      <div className="ui-atlas">
        <div>
          <MapCanvas
            label={
              t("Map of {{sites}} and {{hops}}.", {
                sites: t("{{count}} sites", { count: scene.sites.length }),
                hops: t("{{count}} hops", { count: scene.hops.length }),
              }) + grouped
            }
            scene={scene}
            outlines={outlines}
            tileTemplate={tiles?.template}
            picked={picked}
            day={crewDay.value}
            wish={wish}
            onPick={pick}
            onView={onView}
          />
          <div className="ui-atlas-words">
            <span>
              {t("North is up.")} {grouped}
            </span>
            <span>
              {[
                props.outlines ? t("Outlines: {{label}}", { label: props.outlines.label }) : t("No outlines"),
                tiles?.attribution,
              ]
                .filter(Boolean)
                .join(". ")}
            </span>
          </div>
          <ul className="ui-map-key" aria-label={t("Lines and signs")}>
            {states.map((state) => {
              const line = LINES[HOP_STATE[state].state] ?? PLAIN_LINE;
              return (
                <li key={state}>
                  <svg width="28" height="8" aria-hidden="true">
                    <path
                      d="M0 4h28"
                      stroke={line.colour}
                      strokeWidth={line.width}
                      strokeDasharray={line.dash}
                    />
                  </svg>
                  <StateMark state={HOP_STATE[state].state}>{t(HOP_STATE[state].word)}</StateMark>
                </li>
              );
            })}
          </ul>
        </div>
        <div className="grid content-start gap-4">
          <PickedPanel
            picked={picked}
            hop={pickedHop}
            site={pickedSite}
            hopsOfSite={
              pickedSite
                ? hops.filter((h) => h.nearSite === pickedSite.code || h.farSite === pickedSite.code)
                : []
            }
            onPick={(next) => (next ? show(next) : pick(next))}
          />
          {filters.crew ? (
            <DayPanel
              crewName={crews.find((c) => c.code === filters.crew)?.name ?? filters.crew}
              day={day}
              firstDay={props.firstDay}
              lastDay={props.lastDay}
              state={crewDay}
              onDay={setDay}
              onSite={(code) => show({ kind: "site", code })}
            />
          ) : null}
          <Panel
            title={t("On the map")}
            note={t("A press shows it on the map; choosing there marks it here.")}
            flush
          >
            <MapList
              hops={shownHops}
              sites={shownSites}
              kind={kind}
              onKind={setKind}
              picked={picked}
              onPick={show}
            />
          </Panel>
          {lost.length > 0 ? (
            <Panel
              title={t("Without a coordinate: {{sites}}", { sites: lost.length })}
              note={t("Not on the map, nor are their hops. Travel and weather are not known there either.")}
              tone="quiet"
            >
              <ul className="grid gap-1">
                {lost.slice(0, 50).map((s) => (
                  <li key={s.code}>
                    <Link href={sitePath(s.code)} prefetch={false}>
                      {s.code} {s.name}
                    </Link>
                  </li>
                ))}
              </ul>
              <p className="mt-2">
                {mayImport ? (
                  <>
                    {t(
                      "Give latitude and longitude with Change on the site's page, or for many with a file of sites:",
                    )}{" "}
                    <Link href="/import">{t("Bring in")}</Link>.{lost.length > 50 ? " " : ""}
                  </>
                ) : (
                  t("The rollout manager can bring it in with a file of sites.")
                )}
                {lost.length > 50 ? (
                  <Link href="/sites?tab=sites&f.snag=no+coordinate">
                    {t("All {{sites}}", { sites: lost.length })}
                  </Link>
                ) : null}
              </p>
            </Panel>
          ) : null}
        </div>
      </div>
    </div>
  );
}

function middleOf(picked: Picked, hops: readonly MapHopRow[], sites: ReadonlyMap<string, MapSiteRow>) {
  const hop = picked.kind === "hop" ? hops.find((h) => h.code === picked.code) : undefined;
  const codes = hop ? [hop.nearSite, hop.farSite] : [picked.code];
  const at = codes.flatMap((code) => {
    const site = sites.get(code ?? "");
    return site && site.latDeg !== null && site.lonDeg !== null
      ? [toWorld({ latDeg: site.latDeg, lonDeg: site.lonDeg })]
      : [];
  });
  return at.length === codes.length
    ? { x: at.reduce((s, p) => s + p.x, 0) / at.length, y: at.reduce((s, p) => s + p.y, 0) / at.length }
    : undefined;
}

/** Fetched beside the page, so that sites and hops stand before the coast does. */
function useOutlines(version: number | undefined): readonly SceneOutline[] {
  const [outlines, setOutlines] = useState<readonly SceneOutline[]>([]);
  useEffect(() => {
    if (version === undefined) return;
    const stop = new AbortController();
    fetch(`/map/outlines?version=${version}`, { signal: stop.signal })
      .then((answer) => (answer.ok ? (answer.json() as Promise<Outline[]>) : []))
      .then((list) => setOutlines(sceneOutlines(list)))
      .catch(() => undefined); // the map stands without them
    return () => stop.abort();
  }, [version]);
  return outlines;
}
