"use client";

import Link from "next/link";
import { Button } from "@/app/_ui/Button";
import { formatDate, formatNumber } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
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

/** What is chosen, on the map or in the list, with the way to its page. */
export function PickedPanel({ picked, hop, site, hopsOfSite, onPick }: PickedPanelProps) {
  const { t, locale } = useWords();
  const day = (date: string | null) =>
    date === null ? "–" : formatDate(date as CalendarDate, "full", locale);
  const row = picked?.kind === "hop" ? hop : site;
  if (!picked || !row) return null;
  const close = (
    <Button
      size="small"
      kind="plain"
      glyph="close"
      label={t("Choose nothing")}
      onClick={() => onPick(undefined)}
    />
  );
  const words = t("{{code}} chosen: {{state}}.", { code: row.code, state: t(HOP_STATE[row.state].word) });
  if (picked.kind === "hop" && hop) {
    return (
      <Panel title={hop.code} actions={close}>
        <LiveRegion>{words}</LiveRegion>
        <dl className="grid grid-cols-[7rem_1fr] gap-x-3 gap-y-1">
          <dt>{t("State")}</dt>
          <dd>
            <HopStateMark state={hop.state} />
          </dd>
          <dt>{t("Ends")}</dt>
          <dd>
            {[hop.nearSite, hop.farSite].map((code, i) => (
              <span key={code ?? i}>
                {i > 0 ? t(" to ") : ""}
                {code === null ? t("end missing") : <SiteButton code={code} onPick={onPick} />}
              </span>
            ))}
          </dd>
          <dt>{t("Length")}</dt>
          <dd>
            {hop.lengthKm === null
              ? t("a coordinate is missing")
              : `${formatNumber(hop.lengthKm, 2, locale)} km`}
          </dd>
          <dt>{t("Promised")}</dt>
          <dd>{day(hop.promisedOn)}</dd>
          <dt>{t("Planned")}</dt>
          <dd>{day(hop.plannedOn)}</dd>
          <dt>{t("Crews")}</dt>
          <dd>{hop.crews.trim().replaceAll(" ", ", ") || t("none in the plan in force")}</dd>
        </dl>
        <p className="mt-2">
          <Link href={hopPath(hop.code)}>{t("All about hop {{code}}", { code: hop.code })}</Link>
        </p>
      </Panel>
    );
  }
  if (!site) return null;
  return (
    <Panel title={`${site.code} ${site.name}`} actions={close}>
      <LiveRegion>{words}</LiveRegion>
      <dl className="grid grid-cols-[7rem_1fr] gap-x-3 gap-y-1">
        <dt>{t("State")}</dt>
        <dd>
          <HopStateMark state={site.state} />
        </dd>
        <dt>{t("Region")}</dt>
        <dd>{site.region || "–"}</dd>
        <dt>{t("Position")}</dt>
        <dd>
          {site.latDeg === null || site.lonDeg === null
            ? t("no coordinate")
            : `${site.latDeg.toFixed(5)}, ${site.lonDeg.toFixed(5)}`}
        </dd>
        <dt>{t("Next visit")}</dt>
        <dd>{day(site.nextVisitOn)}</dd>
        <dt>{t("Hops")}</dt>
        <dd>
          {hopsOfSite.length === 0 ? t("none") : null}
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
        <p className="mt-2">{t("This site is not in your regions; a hop of yours ends there.")}</p>
      ) : (
        <p className="mt-2">
          <Link href={sitePath(site.code)}>{t("All about site {{code}}", { code: site.code })}</Link>
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
