import Link from "next/link";
import type { ReactNode } from "react";
import { serverWords } from "@/app/_server/language";
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
export async function BothEnds({
  ends,
  hours,
}: {
  ends: readonly SiteEnd[];
  hours: readonly (EndHours | undefined)[];
}) {
  const { t, locale } = await serverWords();
  const rows: [string, (e: SiteEnd, i: number) => ReactNode][] = [
    [
      t("Site"),
      (e) => (
        <Link href={sitePath(e.site.code)}>
          {e.site.code} {e.site.name}
        </Link>
      ),
    ],
    [
      t("Structure"),
      (e) => `${t(STRUCTURE_WORDS[e.site.structure])}, ${formatMetres(e.site.structureHeightM, locale)}`,
    ],
    [
      t("Azimuth"),
      (e) =>
        e.site.position && e.otherSite.position
          ? t("{{bearing}}° from true north", {
              bearing: formatNumber(bearingDeg(e.site.position, e.otherSite.position), 1, locale),
            })
          : t("no coordinate"),
    ],
    [
      t("Antennas"),
      (e) =>
        e.end.antennas
          .map((a) =>
            t("{{antenna}} at {{height}}", {
              antenna: `${a.label}: ${formatNumber(a.diameterM, 1, locale)} m ${a.polarisations.join("+")}`,
              height: formatMetres(a.mountHeightM, locale),
            }),
          )
          .join("; ") || t("none brought in"),
    ],
    [
      t("ODUs"),
      (e) =>
        e.end.odus
          .map(
            (o) => `${o.label} ${t(o.role)}: ${o.bandGhz} GHz ${o.subBand}, ${t(o.half)}, ${o.polarisation}`,
          )
          .join("; ") || t("none brought in"),
    ],
    [
      t("IF cable"),
      (e) =>
        e.takeoff.runs
          .map((r) => `${r.oduLabel} ${r.cableCode} ${formatMetres(r.cutM, locale)}`)
          .join("; ") || t("no run"),
    ],
    [t("Kit mass"), (e) => formatQuantity(e.takeoff.massKg, "kg", 0, locale)],
    [
      t("Install with set-up, by the norms (P80)"),
      (_e, i) =>
        hours[i]
          ? `${formatHours(hours[i].meanMin, locale)} (${formatHours(hours[i].p80Min, locale)})`
          : t("not estimated yet"),
    ],
    [
      t("Design checks"),
      (e) => (
        <CheckMarks
          fails={e.takeoff.checks.filter((c) => c.state === "fail").length}
          warns={e.takeoff.checks.filter((c) => c.state === "warn").length}
        />
      ),
    ],
    [
      t("More"),
      (e) => {
        const to = (tab: string) => `${sitePath(e.site.code)}?tab=${tab}&end=${encodeURIComponent(e.key)}`;
        return (
          <>
            <Link href={to("design")}>{t("Take-off")}</Link>, <Link href={to("hours")}>{t("hours")}</Link>,{" "}
            <Link href={to("weather")}>{t("weather")}</Link>{" "}
            <span className="sr-only">{e.side === "near" ? t("of the near end") : t("of the far end")}</span>
          </>
        );
      },
    ],
  ];
  return (
    <ScrollRegion label={t("Both ends side by side")}>
      <table className="ui-facts">
        <thead>
          <tr>
            <td />
            {ends.map((e) => (
              <th key={e.key} scope="col">
                {e.side === "near" ? t("Near end") : t("Far end")}
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
