import Link from "next/link";
import { formatClock, formatCount, formatMetres, formatNumber } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { STRUCTURE_WORDS, sitePath } from "@/app/(work)/hops/hopStates";
import { CheckMarks } from "@/app/(work)/sites/checkMarks";
import type { Site } from "@/lib/site";
import type { SiteEnd } from "./desk";

const WEEKDAYS = ["", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];
const TERRAIN = {
  "0": "sea or coast",
  I: "lakes, flat country",
  II: "open country, low vegetation",
  III: "villages, suburbs, forest",
  IV: "town",
} as const;

/** Facts of the site, its access hours, and its ends with where to read on. */
export function SiteFacts({ site, ends }: { site: Site; ends: readonly SiteEnd[] }) {
  const { access, position } = site;
  const facts: [string, string][] = [
    ["Structure", `${STRUCTURE_WORDS[site.structure]}, ${formatMetres(site.structureHeightM)}`],
    [
      "Position",
      position
        ? `${formatNumber(position.latDeg, 5)}°, ${formatNumber(position.lonDeg, 5)}° (latitude, longitude)`
        : "no coordinate",
    ],
    ["Elevation", formatMetres(site.elevationM, undefined, 0)],
    ["Terrain", `${site.terrain}: ${TERRAIN[site.terrain]}`],
    ["Time zone", site.zone],
    [
      "Earthing bar",
      site.hasEarthingBar === undefined ? "not surveyed" : site.hasEarthingBar ? "present" : "none",
    ],
    [
      "Access",
      `${access.weekdays.map((d) => WEEKDAYS[d]).join(", ")}, ${formatClock(access.fromMin)} to ${formatClock(access.toMin)} site time`,
    ],
    [
      "Notice",
      access.noticeDays === 0 ? "none asked" : `${formatCount(access.noticeDays, "day")} before a visit`,
    ],
    ["Crews at once", access.allowsTwoCrews ? "two may work at the same time" : "one at a time"],
  ];
  return (
    <div className="grid items-start gap-4 xl:grid-cols-2">
      <Panel title="Site" flush>
        <ScrollRegion label="Facts of the site">
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
      <Panel title="Link ends here" note="The take-off, the hours and the windows of each." flush>
        {ends.length === 0 ? (
          <p className="px-4 py-3">No hop has an end here.</p>
        ) : (
          <ScrollRegion label="Link ends">
            <table className="ui-facts">
              <thead>
                <tr>
                  <th scope="col">End</th>
                  <th scope="col">To</th>
                  <th scope="col">Scheme</th>
                  <th scope="col" data-align="end">
                    Mount <span className="ui-unit">m</span>
                  </th>
                  <th scope="col" data-align="end">
                    Cable <span className="ui-unit">m</span>
                  </th>
                  <th scope="col">Design checks</th>
                </tr>
              </thead>
              <tbody>
                {ends.map((e) => (
                  <tr key={e.key}>
                    <th scope="row">
                      <Link href={`${sitePath(site.code)}?tab=design&end=${encodeURIComponent(e.key)}`}>
                        {e.hop.code} {e.side}
                      </Link>
                    </th>
                    <td>
                      <Link href={sitePath(e.otherSite.code)}>{e.otherSite.code}</Link>
                    </td>
                    <td>{e.hop.scheme}</td>
                    <td data-align="end">{formatNumber(e.takeoff.drivers.maxMountHeightM, 1)}</td>
                    <td data-align="end">{formatNumber(e.takeoff.drivers.cableM, 1)}</td>
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
export function SnagNotices({ site, ends }: { site: Site; ends: readonly SiteEnd[] }) {
  const failing = ends.filter((e) => e.takeoff.checks.some((c) => c.state === "fail"));
  return (
    <>
      {site.position ? null : (
        <Notice kind="problem" title="No coordinate">
          No visit here is planned, and no weather is read, until latitude and longitude are in. Bring in the
          sites file again with both.
        </Notice>
      )}
      {site.hasEarthingBar === false && failing.length === 0 ? (
        <Notice kind="problem" title="No earthing bar">
          The runs have nothing to be earthed to. Have the site owner provide a bar, then bring in the site
          again.
        </Notice>
      ) : null}
      {failing.map((e) => (
        <Notice
          key={e.key}
          kind="problem"
          title={`${e.hop.code} ${e.side}: ${e.takeoff.checks.find((c) => c.state === "fail")?.message}`}
          action={
            <Link href={`${sitePath(site.code)}?tab=design&end=${encodeURIComponent(e.key)}`}>
              Its checks
            </Link>
          }
        >
          {e.takeoff.checks.find((c) => c.state === "fail")?.remedy}
        </Notice>
      ))}
    </>
  );
}
