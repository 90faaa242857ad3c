import Link from "next/link";
import { serverWords } from "@/app/_server/language";
import { formatDate, formatMetres, formatNumber } from "@/app/_ui/format";
import { checkText } from "@/app/_ui/language/checkText";
import { Notice } from "@/app/_ui/Notice";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { STRUCTURE_WORDS, sitePath } from "@/app/(work)/hops/hopStates";
import { CheckMarks } from "@/app/(work)/sites/checkMarks";
import type { Site } from "@/lib/site";
import { addDays, type CalendarDate } from "@/lib/time";
import type { SiteEnd } from "./desk";

/** A Monday; any does, for the names of the days of its week. */
const MONDAY = "2026-01-05" as CalendarDate;
export const TERRAIN = {
  "0": "sea or coast",
  I: "lakes, flat country",
  II: "open country, low vegetation",
  III: "villages, suburbs, forest",
  IV: "town",
} as const;

/** Facts of the site, its access hours, and its ends with where to read on. */
export async function SiteFacts({ site, ends }: { site: Site; ends: readonly SiteEnd[] }) {
  const { t, locale, clock } = await serverWords();
  const { access, position } = site;
  const facts: [string, string][] = [
    [t("Structure"), `${t(STRUCTURE_WORDS[site.structure])}, ${formatMetres(site.structureHeightM, locale)}`],
    [
      t("Position"),
      position
        ? t("{{latDeg}}°, {{lonDeg}}° (latitude, longitude)", {
            latDeg: formatNumber(position.latDeg, 5, locale),
            lonDeg: formatNumber(position.lonDeg, 5, locale),
          })
        : t("no coordinate"),
    ],
    [t("Elevation"), formatMetres(site.elevationM, locale, 0)],
    [t("Terrain"), `${site.terrain}: ${t(TERRAIN[site.terrain])}`],
    [t("Time zone"), site.zone],
    [
      t("Earthing bar"),
      site.hasEarthingBar === undefined ? t("not surveyed") : site.hasEarthingBar ? t("present") : t("none"),
    ],
    [
      t("Access"),
      t("{{weekdays}}, {{from}} to {{to}} site time", {
        weekdays: access.weekdays
          .map((d) => formatDate(addDays(MONDAY, d - 1), "weekdayOnly", locale))
          .join(", "),
        from: clock(access.fromMin),
        to: clock(access.toMin),
      }),
    ],
    [
      t("Notice (of a visit)"),
      access.noticeDays === 0
        ? t("none asked")
        : t("{{noticeDays}} before a visit", {
            noticeDays: t("{{count}} days", { count: access.noticeDays }),
          }),
    ],
    [t("Crews at once"), access.allowsTwoCrews ? t("two may work at the same time") : t("one at a time")],
  ];
  return (
    <div className="grid items-start gap-4 xl:grid-cols-2">
      <Panel title={t("Site")} flush>
        <ScrollRegion label={t("Facts of the site")}>
          <table className="ui-facts">
            <tbody>
              {facts.map(([name, value]) => (
                <tr key={name}>
                  <th scope="row">{name}</th>
                  <td>{value}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </ScrollRegion>
      </Panel>
      <Panel title={t("Link ends here")} note={t("The take-off, the hours and the windows of each.")} flush>
        {ends.length === 0 ? (
          <p className="px-4 py-3">{t("No hop has an end here.")}</p>
        ) : (
          <ScrollRegion label={t("Link ends")}>
            <table className="ui-facts">
              <thead>
                <tr>
                  <th scope="col">{t("End")}</th>
                  <th scope="col">{t("To")}</th>
                  <th scope="col">{t("Scheme")}</th>
                  <th scope="col" data-align="end">
                    {t("Mount (height)")} <span className="ui-unit">m</span>
                  </th>
                  <th scope="col" data-align="end">
                    {t("Cable")} <span className="ui-unit">m</span>
                  </th>
                  <th scope="col">{t("Design checks")}</th>
                </tr>
              </thead>
              <tbody>
                {ends.map((e) => (
                  <tr key={e.key}>
                    <th scope="row">
                      <Link href={`${sitePath(site.code)}?tab=design&end=${encodeURIComponent(e.key)}`}>
                        {e.hop.code} {t(e.side)}
                      </Link>
                    </th>
                    <td>
                      <Link href={sitePath(e.otherSite.code)}>{e.otherSite.code}</Link>
                    </td>
                    <td>{t(e.hop.scheme)}</td>
                    <td data-align="end">{formatNumber(e.takeoff.drivers.maxMountHeightM, 1, locale)}</td>
                    <td data-align="end">{formatNumber(e.takeoff.drivers.cableM, 1, locale)}</td>
                    <td>
                      <CheckMarks {...countChecks(e)} />
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </ScrollRegion>
        )}
      </Panel>
    </div>
  );
}

function countChecks({ takeoff }: SiteEnd) {
  return {
    fails: takeoff.checks.filter((c) => c.state === "fail").length,
    warns: takeoff.checks.filter((c) => c.state === "warn").length,
  };
}

/** What keeps the site from being planned in full, each with what to do. */
export async function SnagNotices({
  site,
  ends,
  mayImport,
}: {
  site: Site;
  ends: readonly SiteEnd[];
  mayImport: boolean;
}) {
  const words = await serverWords();
  const { t } = words;
  const failing = ends.flatMap((e) => {
    const fail = e.takeoff.checks.find((c) => c.state === "fail");
    return fail ? [{ ...e, fail }] : [];
  });
  return (
    <>
      {site.position ? null : (
        <Notice
          kind="problem"
          title={t("No coordinate")}
          action={
            mayImport ? <Link href={`${sitePath(site.code)}/change`}>{t("Enter it here")}</Link> : undefined
          }
        >
          {t(
            "No visit here is planned, and no weather is read, until latitude and longitude are in. Enter both, or bring in the sites file again.",
          )}
        </Notice>
      )}
      {site.hasEarthingBar === false && failing.length === 0 ? (
        <Notice kind="problem" title={t("No earthing bar")}>
          {t(
            "The runs have nothing to be earthed to. Have the site owner provide a bar, then bring in the site again.",
          )}
        </Notice>
      ) : null}
      {failing.map((e) => (
        <Notice
          key={e.key}
          kind="problem"
          title={
            <>
              {e.hop.code} {t(e.side)}: {checkText(e.fail.message, words)}
            </>
          }
          action={
            <Link href={`${sitePath(site.code)}?tab=design&end=${encodeURIComponent(e.key)}`}>
              {t("Its checks")}
            </Link>
          }
        >
          {checkText(e.fail.remedy, words)}
        </Notice>
      ))}
    </>
  );
}
