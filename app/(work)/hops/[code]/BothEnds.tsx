import Link from "next/link";
import type { ReactNode } from "react";
import { formatHours, formatMetres, formatNumber, formatQuantity } from "@/app/_ui/format";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import type { SiteEnd } from "@/app/(work)/sites/[code]/desk";
import { CheckMarks } from "@/app/(work)/sites/checkMarks";
import { bearingDeg } from "@/lib/geo";
import { STRUCTURE_WORDS, sitePath } from "../hopStates";

export interface EndHours {
  meanMin: number;
  p80Min: number;
}

/** Near and far end side by side: what differs is seen at once. `hours` is missing until they are estimated. */
export function BothEnds({
  ends,
  hours,
}: {
  ends: readonly SiteEnd[];
  hours: readonly (EndHours | undefined)[];
}) {
  const rows: [string, (e: SiteEnd, i: number) => ReactNode][] = [
    [
      "Site",
      (e) => (
        <Link href={sitePath(e.site.code)}>
          {e.site.code} {e.site.name}
        </Link>
      ),
    ],
    ["Structure", (e) => `${STRUCTURE_WORDS[e.site.structure]}, ${formatMetres(e.site.structureHeightM)}`],
    [
      "Azimuth",
      (e) =>
        e.site.position && e.otherSite.position
          ? `${formatNumber(bearingDeg(e.site.position, e.otherSite.position), 1)}° from true north`
          : "no coordinate",
    ],
    [
      "Antennas",
      (e) =>
        e.end.antennas
          .map(
            (a) =>
              `${a.label}: ${formatNumber(a.diameterM, 1)} m ${a.polarisations.join("+")} at ${formatMetres(a.mountHeightM)}`,
          )
          .join("; "),
    ],
    [
      "ODUs",
      (e) =>
        e.end.odus
          .map((o) => `${o.label} ${o.role}: ${o.bandGhz} GHz ${o.subBand}, ${o.half}, ${o.polarisation}`)
          .join("; "),
    ],
    [
      "IF cable",
      (e) =>
        e.takeoff.runs.map((r) => `${r.oduLabel} ${r.cableCode} ${formatMetres(r.cutM)}`).join("; ") ||
        "no run",
    ],
    ["Kit mass", (e) => formatQuantity(e.takeoff.massKg, "kg", 0)],
    [
      "Install, PERT mean (P80)",
      (_e, i) =>
        hours[i] ? `${formatHours(hours[i].meanMin)} (${formatHours(hours[i].p80Min)})` : "not estimated yet",
    ],
    [
      "Design checks",
      (e) => (
        <CheckMarks
          fails={e.takeoff.checks.filter((c) => c.state === "fail").length}
          warns={e.takeoff.checks.filter((c) => c.state === "warn").length}
        />
      ),
    ],
    [
      "More",
      (e) => {
        const to = (tab: string) => `${sitePath(e.site.code)}?tab=${tab}&end=${encodeURIComponent(e.key)}`;
        return (
          <>
            <Link href={to("design")}>Take-off</Link>, <Link href={to("hours")}>hours</Link>,{" "}
            <Link href={to("weather")}>weather</Link> <span className="sr-only">of the {e.side} end</span>
          </>
        );
      },
    ],
  ];
  return (
    <ScrollRegion label="Both ends side by side">
      <table className="ui-facts">
        <thead>
          <tr>
            <td />
            {ends.map((e) => (
              <th key={e.key} scope="col">
                {e.side === "near" ? "Near end" : "Far end"}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(([name, cell]) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              {ends.map((e, i) => (
                <td key={e.key}>{cell(e, i)}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
