"use client";

import { type PointerEvent, useMemo, useRef, useState } from "react";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { bearingDeg, distanceKm } from "@/lib/geo";
import type { StructureKind } from "@/lib/site";
import { Button } from "./Button";
import { Disclosure } from "./Disclosure";
import { LINES, PLAIN_LINE } from "./drawings/lineLooks";
import { fitProjection, scaleBarKm } from "./drawings/projection";
import { formatNumber } from "./format";
import { Glyph } from "./Glyph";
import type { Words } from "./language/words";
import { RowLink } from "./RowLink";
import { ScrollRegion } from "./ScrollRegion";
import { StateMark } from "./StateMark";
import { STATES, type StateName } from "./states";
import { useWidth } from "./useWidth";

export interface MapSite {
  id: string;
  code: string;
  name: string;
  /** Missing coordinates: the site is only in the list. */
  latDeg?: number;
  lonDeg?: number;
  structure: StructureKind;
  href?: string;
}

export interface MapHop {
  id: string;
  code: string;
  nearSiteId: string;
  farSiteId: string;
  state: StateName;
  href?: string;
}

export interface MapSketchProps {
  label: string;
  sites: readonly MapSite[];
  hops: readonly MapHop[];
  selectedHopId?: string;
  /** A press on a hop line or its row. Without it the codes in the list are links only. */
  onSelectHop?: (id: string) => void;
  height?: number;
  locale?: string;
  /** What a state is called here, where its common word is not the list's. */
  words?: Partial<Readonly<Record<StateName, string>>>;
}

const MARGIN_PX = 44;
const WHOLE = { x: 0.5, y: 0.5, zoom: 1 };
const ZOOM_STEP = 1.6;
const ZOOM_MOST = 24;
/** Codes are written beside sites only while each has about so much paper, px². */
const LABEL_AREA = 9_000;

/**
 * Sites and hops in their true arrangement, north up, with a scale; no tiles, no network. The list under it
 * says the same and is the way by key and by screen reader.
 */
export function MapSketch(props: MapSketchProps) {
  const { t, locale: spoken } = useWords();
  const { label, sites, hops, selectedHopId, onSelectHop, height = 460, locale = spoken } = props;
  const wordOf = (state: StateName) => t(props.words?.[state] ?? STATES[state].word);
  const byId = useMemo(() => new Map(sites.map((site) => [site.id, site])), [sites]);
  const placed = useMemo(() => sites.filter(isPlaced), [sites]);
  const frame = useRef<HTMLDivElement>(null);
  // Drawn in real pixels, so that codes keep their size on a phone.
  const widthPx = useWidth(frame, 1000);
  const projection = useMemo(
    () => fitProjection(placed, { widthPx, heightPx: height, marginPx: MARGIN_PX }),
    [placed, widthPx, height],
  );
  // The middle of the view as shares of the sheet, so that it survives a change of width.
  const [view, setView] = useState(WHOLE);
  const drag = useRef<{ x: number; y: number; fromX: number; fromY: number }>(undefined);

  const width = widthPx / view.zoom;
  const tall = height / view.zoom;
  const midX = view.x * widthPx;
  const midY = view.y * height;
  const unit = 1 / view.zoom; // one px on paper at zoom 1, kept at any zoom
  const inView = placed.filter((site) => {
    const x = projection.x(site.lonDeg);
    const y = projection.y(site.latDeg);
    return Math.abs(x - midX) < width / 2 + 20 && Math.abs(y - midY) < tall / 2 + 20;
  });
  const barKm = scaleBarKm(projection.pxPerKm * view.zoom, 160);
  const states = [...new Set(hops.map((hop) => hop.state))];

  function zoomBy(factor: number): void {
    setView((v) => ({ ...v, zoom: Math.min(ZOOM_MOST, Math.max(1, v.zoom * factor)) }));
  }
  function onPointerDown(event: PointerEvent): void {
    drag.current = { x: event.clientX, y: event.clientY, fromX: view.x, fromY: view.y };
  }
  function onPointerMove(event: PointerEvent): void {
    const from = drag.current;
    if (!from || event.buttons === 0) return;
    setView((v) => ({
      ...v,
      x: from.fromX - (event.clientX - from.x) / widthPx / v.zoom,
      y: from.fromY - (event.clientY - from.y) / height / v.zoom,
    }));
  }

  return (
    <div className="ui-map">
      <div className="ui-map-frame" ref={frame}>
        <svg
          className="ui-map-sheet"
          style={{ height }}
          viewBox={`${midX - width / 2} ${midY - tall / 2} ${width} ${tall}`}
          role="img"
          aria-label={t("{{label}}: {{sites}}, {{hops}}. The list below says the same.", {
            label,
            sites: t("{{count}} sites", { count: placed.length }),
            hops: t("{{count}} hops", { count: hops.length }),
          })}
          onPointerDown={onPointerDown}
          onPointerMove={onPointerMove}
          onPointerUp={() => {
            drag.current = undefined;
          }}
        >
          {hops.map((hop) => {
            const near = byId.get(hop.nearSiteId);
            const far = byId.get(hop.farSiteId);
            if (!near || !far || !isPlaced(near) || !isPlaced(far)) return null;
            const line = LINES[hop.state] ?? PLAIN_LINE;
            const ends = {
              x1: projection.x(near.lonDeg),
              y1: projection.y(near.latDeg),
              x2: projection.x(far.lonDeg),
              y2: projection.y(far.latDeg),
            };
            const isSelected = hop.id === selectedHopId;
            return (
              // biome-ignore lint/a11y/noStaticElementInteractions: the list under the map is the way by key
              <g key={hop.id} className="ui-map-hop" onClick={() => onSelectHop?.(hop.id)}>
                <title>
                  {t("{{hop}}, {{near}} to {{far}}: {{state}}", {
                    hop: hop.code,
                    near: near.code,
                    far: far.code,
                    state: wordOf(hop.state),
                  })}
                </title>
                <line {...ends} stroke="transparent" strokeWidth={14 * unit} />
                {isSelected ? (
                  <line {...ends} stroke="var(--focus)" strokeWidth={9 * unit} strokeLinecap="round" />
                ) : null}
                <line
                  {...ends}
                  stroke={line.colour}
                  strokeWidth={line.width * unit}
                  strokeDasharray={line.dash
                    ?.split(" ")
                    .map((n) => Number(n) * unit)
                    .join(" ")}
                />
              </g>
            );
          })}
          {inView.map((site) => {
            const x = projection.x(site.lonDeg);
            const y = projection.y(site.latDeg);
            return (
              <g key={site.id} transform={`translate(${x} ${y}) scale(${unit})`}>
                <title>{`${site.code} ${site.name}`}</title>
                <SiteSign structure={site.structure} />
                {inView.length * LABEL_AREA <= widthPx * height ? (
                  <text x="9" y="4" className="ui-map-text">
                    {site.code}
                  </text>
                ) : null}
              </g>
            );
          })}
        </svg>
        <div className="ui-map-scale" aria-hidden="true">
          <span style={{ width: barKm * projection.pxPerKm * view.zoom }} />
          {formatNumber(barKm, barKm < 1 ? 2 : 0, locale)} km
        </div>
        <div className="ui-map-north" aria-hidden="true">
          <Glyph name="up" />N
        </div>
        <div className="ui-map-zoom ui-no-print">
          <Button glyph="plus" label={t("Closer")} onClick={() => zoomBy(ZOOM_STEP)} />
          <Button glyph="minus" label={t("Further")} onClick={() => zoomBy(1 / ZOOM_STEP)} />
          <Button size="small" onClick={() => setView(WHOLE)}>
            {t("All")}
          </Button>
        </div>
      </div>
      <ul className="ui-map-key">
        {states.map((state) => {
          const line = LINES[state] ?? PLAIN_LINE;
          return (
            <li key={state}>
              <svg width="28" height="8" aria-hidden="true">
                <path d="M0 4h28" stroke={line.colour} strokeWidth={line.width} strokeDasharray={line.dash} />
              </svg>
              <StateMark state={state}>{wordOf(state)}</StateMark>
            </li>
          );
        })}
      </ul>
      <Disclosure summary={t("Show hops as a list")}>
        <ScrollRegion label={t("Hops")} className="ui-figures">
          <table className="ui-facts">
            <thead>
              <tr>
                <th scope="col">{t("Hop")}</th>
                <th scope="col">{t("State")}</th>
                <th scope="col">{t("Near end")}</th>
                <th scope="col">{t("Far end")}</th>
                <th scope="col" data-align="end">
                  {t("Length")} <span className="ui-unit">km</span>
                </th>
                <th scope="col" data-align="end">
                  {t("Bearing")} <span className="ui-unit">°</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {hops.map((hop) => {
                const near = byId.get(hop.nearSiteId);
                const far = byId.get(hop.farSiteId);
                const both = near && far && isPlaced(near) && isPlaced(far);
                return (
                  <tr key={hop.id} aria-current={hop.id === selectedHopId ? "true" : undefined}>
                    <th scope="row">
                      {hop.href ? <RowLink href={hop.href}>{hop.code}</RowLink> : hop.code}
                      {onSelectHop ? (
                        <Button kind="plain" size="small" onClick={() => onSelectHop(hop.id)}>
                          {t("Show")}
                          <span className="sr-only"> {t("{{code}} on the map", { code: hop.code })}</span>
                        </Button>
                      ) : null}
                    </th>
                    <td>
                      <StateMark state={hop.state}>{wordOf(hop.state)}</StateMark>
                    </td>
                    <td>{siteWords(near, t)}</td>
                    <td>{siteWords(far, t)}</td>
                    <td data-align="end">
                      {both ? formatNumber(distanceKm(near, far), 2, locale, true) : "–"}
                    </td>
                    <td data-align="end">
                      {both ? formatNumber(bearingDeg(near, far), 1, locale, true) : "–"}
                    </td>
                  </tr>
                );
              })}
            </tbody>
          </table>
        </ScrollRegion>
      </Disclosure>
    </div>
  );
}

function isPlaced(site: MapSite): site is MapSite & { latDeg: number; lonDeg: number } {
  return site.latDeg !== undefined && site.lonDeg !== undefined;
}

function siteWords(site: MapSite | undefined, t: Words["t"]): string {
  if (!site) return "–";
  return `${site.code} ${site.name}${isPlaced(site) ? "" : ` (${t("no coordinate")})`}`;
}

/** A sign per kind of structure, so that shape tells it. */
function SiteSign({ structure }: { structure: StructureKind }) {
  const common = { fill: "var(--surface)", stroke: "var(--ink)", strokeWidth: 1.6 };
  if (structure === "lattice") return <path d="M0-7L6 5H-6z" {...common} />;
  if (structure === "mast") return <path d="M-6 5L0-7L6 5M0-7V5" {...common} fill="none" />;
  if (structure === "roof") return <rect x="-5" y="-5" width="10" height="10" {...common} />;
  return <circle r="5" {...common} />;
}
