import { serverWords } from "@/app/_server/language";
import { Disclosure } from "@/app/_ui/Disclosure";
import { formatMetres, formatNumber, formatQuantity } from "@/app/_ui/format";
import { lineReason } from "@/app/_ui/language/lineReason";
import { Panel } from "@/app/_ui/Panel";
import { RouteSketch } from "@/app/_ui/RouteSketch";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import type { CatalogueItem, Odu } from "@/lib/site";
import type { EndTakeoff } from "@/lib/takeoff";
import { LEVEL_WORDS } from "../levelWords";
import { CheckList } from "./CheckList";
import type { Desk, SiteEnd } from "./desk";

/** One end: how it looks, what is wrong with it, what it takes and why. */
export async function DesignTab({ end, desk }: { end: SiteEnd; desk: Desk }) {
  const { t, locale } = await serverWords();
  const { takeoff, hopTakeoff } = end;
  const { version } = desk.rules.takeoffPolicy;
  const own = takeoff.checks;
  return (
    <div className="grid gap-4">
      <Panel
        title={t("Design checks")}
        note={t("A failing end is not planned: the wrong radio on the tower costs two climbs.")}
      >
        <CheckList checks={own} label={t("Checks of this end")} />
        <h3 className="mt-4">{t("Both ends together")}</h3>
        <CheckList checks={hopTakeoff.checks} label={t("Checks of both ends together")} />
      </Panel>
      <div className="grid items-start gap-4 xl:grid-cols-2">
        <Panel
          title={t("Side view")}
          note={t("{{height}} structure; runs and earthing points to scale.", {
            height: formatMetres(end.site.structureHeightM, locale),
          })}
        >
          <RouteSketch
            label={t("{{hop}} {{side}} end, {{site}}", {
              hop: end.hop.code,
              side: t(end.side),
              site: end.site.code,
            })}
            structure={end.site.structure}
            structureHeightM={end.site.structureHeightM}
            antennas={end.end.antennas}
            runs={takeoff.runs}
            antennaOfOdu={Object.fromEntries(end.end.odus.map((o) => [o.label, o.antennaLabel]))}
          />
        </Panel>
        <div className="grid gap-4">
          <Panel title={t("IF cable runs")} note={t("One run is one piece, no joint.")} flush>
            <RunTable end={end} catalogue={desk.context.catalogue} />
          </Panel>
          <Panel title={t("Earthing points")} flush>
            <EarthingTable takeoff={takeoff} />
          </Panel>
        </div>
      </div>
      <Panel
        title={t("Take-off")}
        note={`${t("{{count}} lines", { count: takeoff.lines.length })}, ${formatQuantity(takeoff.massKg, "kg", 0, locale)}, ${formatQuantity(takeoff.volumeL, "l", 0, locale)}.`}
        foot={t(
          "Rules and figures are defaults from common practice and memory (policy version {{version}}): confirm with the maker's instructions. Exact = before rounding; the programme's total adds the exact figures of lines that are rounded per order.",
          { version },
        )}
        flush
      >
        <LineTable takeoff={takeoff} />
      </Panel>
      <Disclosure summary={t("Antennas and radios of this end")}>
        <DesignTables end={end} />
      </Disclosure>
    </div>
  );
}

function itemOfOdu(odu: Odu | undefined, catalogue: readonly CatalogueItem[]): CatalogueItem | undefined {
  return (
    odu &&
    catalogue.find(
      ({ category, attributes: a }) =>
        category === "ODU" &&
        a.bandGhz === odu.bandGhz &&
        a.subBand === odu.subBand &&
        a.duplexSpacingMhz === odu.duplexSpacingMhz &&
        a.half === odu.half,
    )
  );
}

async function RunTable({ end, catalogue }: { end: SiteEnd; catalogue: readonly CatalogueItem[] }) {
  const { t, locale } = await serverWords();
  return (
    <ScrollRegion label={t("IF cable runs")}>
      <table className="ui-facts">
        <thead>
          <tr>
            <th scope="col">{t("Run")}</th>
            <th scope="col">{t("Cable")}</th>
            <th scope="col" data-align="end">
              {t("Route + surplus = cut")} <span className="ui-unit">m</span>
            </th>
            <th scope="col" data-align="end">
              {t("Bends")}
            </th>
            <th scope="col" data-align="end">
              {t("Loss of limit")} <span className="ui-unit">dB</span>
            </th>
            <th scope="col" data-align="end">
              {t("At the ODU, least")} <span className="ui-unit">V</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {end.takeoff.runs.map((run) => {
            const limits = itemOfOdu(
              end.end.odus.find((o) => o.label === run.oduLabel),
              catalogue,
            )?.attributes;
            return (
              <tr key={run.id}>
                <th scope="row">
                  {run.oduLabel} {t(run.role)}
                </th>
                <td>
                  {run.cableCode}{" "}
                  {end.end.cableCode ? t("(named in the design)") : t("(lightest that passes)")}
                </td>
                <td data-align="end">
                  {formatNumber(run.routeM, 1, locale)} + {formatNumber(run.cutM - run.routeM, 1, locale)} ={" "}
                  <strong>{formatNumber(run.cutM, 1, locale)}</strong>
                </td>
                <td data-align="end">{run.bends}</td>
                <td data-align="end">
                  {t("{{loss}} of {{limit}}", {
                    loss: formatNumber(run.lossDbAtHigh, 1, locale),
                    limit: formatNumber(limits?.maxIfLossDb, 1, locale),
                  })}
                </td>
                <td data-align="end">
                  {run.voltageAtOduV === undefined
                    ? t("no working point")
                    : `${formatNumber(run.voltageAtOduV, 1, locale)}, ${formatNumber(limits?.minVoltageV, 0, locale)}`}
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

async function EarthingTable({ takeoff }: { takeoff: EndTakeoff }) {
  const { t, locale } = await serverWords();
  return (
    <ScrollRegion label={t("Earthing points")}>
      <table className="ui-facts">
        <thead>
          <tr>
            <th scope="col">{t("Run")}</th>
            <th scope="col">{t("Point")}</th>
            <th scope="col" data-align="end">
              {t("From the ODU")} <span className="ui-unit">m</span>
            </th>
            <th scope="col" data-align="end">
              {t("Above ground")} <span className="ui-unit">m</span>
            </th>
            <th scope="col">{t("Moved")}</th>
          </tr>
        </thead>
        <tbody>
          {takeoff.runs.flatMap((run) =>
            run.earthingPoints.map((p) => (
              <tr key={`${run.id} ${p.distanceM}`}>
                <th scope="row">{run.oduLabel}</th>
                <td>{t(p.kind)}</td>
                <td data-align="end">{formatNumber(p.distanceM, 2, locale, true)}</td>
                <td data-align="end">{formatNumber(p.heightM, 1, locale, true)}</td>
                <td>
                  {p.movedM > 0
                    ? t("{{distance}}, clear of a bend", { distance: formatMetres(p.movedM, locale) })
                    : t("no")}
                </td>
              </tr>
            )),
          )}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

async function LineTable({ takeoff }: { takeoff: EndTakeoff }) {
  const words = await serverWords();
  const { t, amount, locale } = words;
  return (
    <ScrollRegion label={t("Take-off lines")} className="max-md:px-4">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">{t("Item")}</th>
            <th scope="col">{t("Code")}</th>
            <th scope="col">{t("Rounded")}</th>
            <th scope="col">{t("Exact")}</th>
            <th scope="col">{t("Rounded per")}</th>
            <th scope="col">{t("Owner")}</th>
            <th scope="col">{t("Why")}</th>
          </tr>
        </thead>
        <tbody>
          {takeoff.lines.map((l) => (
            <tr key={`${l.ruleId} ${l.itemCode}`}>
              <th data-label={t("Item")} scope="row">
                {l.name}
              </th>
              <td data-label={t("Code")}>
                <code>{l.itemCode}</code>
              </td>
              <td data-label={t("Rounded")}>
                {l.level === "order" ? t("on the order, not here") : amount(l.quantity, l.unit)}
              </td>
              <td data-label={t("Exact")} className="whitespace-nowrap">
                {amount(l.exact, l.unit)}
              </td>
              <td data-label={t("Rounded per")} className="whitespace-nowrap">
                {t(LEVEL_WORDS[l.level])}, {formatNumber(l.step, 2, locale)} {t(l.unit)}
              </td>
              <td data-label={t("Owner")}>{t(l.owner)}</td>
              <td data-label={t("Why")} className="min-w-72">
                {lineReason(l.reason, words)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

async function DesignTables({ end }: { end: SiteEnd }) {
  const { t, locale } = await serverWords();
  return (
    <div className="grid gap-4">
      <ScrollRegion label={t("Antennas")}>
        <table className="ui-facts">
          <thead>
            <tr>
              <th scope="col">{t("Antenna")}</th>
              <th scope="col" data-align="end">
                {t("Mount height")} <span className="ui-unit">m</span>
              </th>
              <th scope="col" data-align="end">
                {t("Diameter")} <span className="ui-unit">m</span>
              </th>
              <th scope="col">{t("Polarisation")}</th>
              <th scope="col">{t("Mount")}</th>
              <th scope="col">{t("Owner")}</th>
            </tr>
          </thead>
          <tbody>
            {end.end.antennas.map((a) => (
              <tr key={a.label}>
                <th scope="row">{a.label}</th>
                <td data-align="end">{formatNumber(a.mountHeightM, 1, locale)}</td>
                <td data-align="end">{formatNumber(a.diameterM, 1, locale)}</td>
                <td>{a.polarisations.join(` ${t("and")} `)}</td>
                <td>{t(a.mount)}</td>
                <td>{t(a.owner)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
      <ScrollRegion label={t("ODUs")}>
        <table className="ui-facts">
          <thead>
            <tr>
              <th scope="col">{t("ODU")}</th>
              <th scope="col">{t("Role (of an ODU)")}</th>
              <th scope="col">{t("Antenna")}</th>
              <th scope="col">{t("Polarisation")}</th>
              <th scope="col">{t("Band, sub-band, spacing, half")}</th>
              <th scope="col">{t("Mounting")}</th>
              <th scope="col">{t("Owner")}</th>
            </tr>
          </thead>
          <tbody>
            {end.end.odus.map((o) => (
              <tr key={o.label}>
                <th scope="row">{o.label}</th>
                <td>{t(o.role)}</td>
                <td>{o.antennaLabel}</td>
                <td>{o.polarisation}</td>
                <td>
                  {o.bandGhz} GHz, {o.subBand}, {o.duplexSpacingMhz} MHz, {t(o.half)}
                </td>
                <td>{t(o.mounting)}</td>
                <td>{t(o.owner)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
    </div>
  );
}
