"use client";

import Link from "next/link";
import { Button } from "@/app/_ui/Button";
import { formatDate, formatNumber } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { LiveRegion } from "@/app/_ui/Toast";
import type { CalendarDate } from "@/lib/time";
import { HopStateMark } from "../hops/HopStateMark";
import { HOP_STATE, hopPath, sitePath } from "../hops/hopStates";
import type { Picked } from "./draw";
import type { MapHopRow, MapSiteRow } from "./scene";

interface PickedPanelProps {
  picked: Picked | undefined;
  hop?: MapHopRow;
  site?: MapSiteRow;
  /** Hops of the site, of those that this account sees. */
  hopsOfSite: readonly MapHopRow[];
  onPick: (picked: Picked | undefined) => void;
}

const day = (date: string | null) => (date === null ? "–" : formatDate(date as CalendarDate));

/** What is chosen, on the map or in the list, with the way to its page. */
export function PickedPanel({ picked, hop, site, hopsOfSite, onPick }: PickedPanelProps) {
  const row = picked?.kind === "hop" ? hop : site;
  if (!picked || !row) return null;
  const close = (
    <Button
      size="small"
      kind="plain"
      glyph="close"
      label="Choose nothing"
      onClick={() => onPick(undefined)}
    />
  );
  const words = `${row.code} chosen: ${HOP_STATE[row.state].word}.`;
  if (picked.kind === "hop" && hop) {
    return (
      <Panel title={hop.code} actions={close}>
        <LiveRegion>{words}</LiveRegion>
        <dl className="grid grid-cols-[7rem_1fr] gap-x-3 gap-y-1">
          <dt>State</dt>
          <dd>
            <HopStateMark state={hop.state} />
          </dd>
          <dt>Ends</dt>
          <dd>
            {[hop.nearSite, hop.farSite].map((code, i) => (
              <span key={code ?? i}>
                {i > 0 ? " to " : ""}
                {code === null ? "end missing" : <SiteButton code={code} onPick={onPick} />}
              </span>
            ))}
          </dd>
          <dt>Length</dt>
          <dd>{hop.lengthKm === null ? "a coordinate is missing" : `${formatNumber(hop.lengthKm, 2)} km`}</dd>
          <dt>Promised</dt>
          <dd>{day(hop.promisedOn)}</dd>
          <dt>Planned</dt>
          <dd>{day(hop.plannedOn)}</dd>
          <dt>Crews</dt>
          <dd>{hop.crews.trim().replaceAll(" ", ", ") || "none in the plan in force"}</dd>
        </dl>
        <p className="mt-2">
          <Link href={hopPath(hop.code)}>All about hop {hop.code}</Link>
        </p>
      </Panel>
    );
  }
  if (!site) return null;
  return (
    <Panel title={`${site.code} ${site.name}`} actions={close}>
      <LiveRegion>{words}</LiveRegion>
      <dl className="grid grid-cols-[7rem_1fr] gap-x-3 gap-y-1">
        <dt>State</dt>
        <dd>
          <HopStateMark state={site.state} />
        </dd>
        <dt>Region</dt>
        <dd>{site.region || "–"}</dd>
        <dt>Position</dt>
        <dd>
          {site.latDeg === null || site.lonDeg === null
            ? "no coordinate"
            : `${site.latDeg.toFixed(5)}, ${site.lonDeg.toFixed(5)}`}
        </dd>
        <dt>Next visit</dt>
        <dd>{day(site.nextVisitOn)}</dd>
        <dt>Hops</dt>
        <dd>
          {hopsOfSite.length === 0 ? "none" : null}
          {hopsOfSite.map((h, i) => (
            <span key={h.code}>
              {i > 0 ? ", " : ""}
              <button type="button" className="ui-link" onClick={() => onPick({ kind: "hop", code: h.code })}>
                {h.code}
              </button>
            </span>
          ))}
        </dd>
      </dl>
      {site.isOutside ? (
        <p className="mt-2">This site is not in your regions; a hop of yours ends there.</p>
      ) : (
        <p className="mt-2">
          <Link href={sitePath(site.code)}>All about site {site.code}</Link>
        </p>
      )}
    </Panel>
  );
}

function SiteButton({ code, onPick }: { code: string; onPick: (picked: Picked) => void }) {
  return (
    <button type="button" className="ui-link" onClick={() => onPick({ kind: "site", code })}>
      {code}
    </button>
  );
}
