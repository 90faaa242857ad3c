import { Disclosure } from "@/app/_ui/Disclosure";
import { formatAmount, formatCount, formatMetres, formatNumber, formatQuantity } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { RouteSketch } from "@/app/_ui/RouteSketch";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import type { CatalogueItem, Odu } from "@/lib/site";
import type { EndTakeoff } from "@/lib/takeoff";
import { CheckList } from "./CheckList";
import type { Desk, SiteEnd } from "./desk";

/** One end: how it looks, what is wrong with it, what it takes and why. */
export function DesignTab({ end, desk }: { end: SiteEnd; desk: Desk }) {
  const { takeoff, hopTakeoff } = end;
  const { version } = desk.rules.takeoffPolicy;
  const own = takeoff.checks;
  return (
    <div className="grid gap-4">
      <Panel
        title="Design checks"
        note="A failing end is not planned: the wrong radio on the tower costs two climbs."
      >
        <CheckList checks={own} label="Checks of this end" />
        <h3 className="mt-4">Both ends together</h3>
        <CheckList checks={hopTakeoff.checks} label="Checks of both ends together" />
      </Panel>
      <div className="grid items-start gap-4 xl:grid-cols-2">
        <Panel
          title="Side view"
          note={`${formatMetres(end.site.structureHeightM)} structure; runs and earthing points to scale.`}
        >
          <RouteSketch
            label={`${end.hop.code} ${end.side} end, ${end.site.code}`}
            structure={end.site.structure}
            structureHeightM={end.site.structureHeightM}
            antennas={end.end.antennas}
            runs={takeoff.runs}
            antennaOfOdu={Object.fromEntries(end.end.odus.map((o) => [o.label, o.antennaLabel]))}
          />
        </Panel>
        <div className="grid gap-4">
          <Panel title="IF cable runs" note="One run is one piece, no joint." flush>
            <RunTable end={end} catalogue={desk.context.catalogue} />
          </Panel>
          <Panel title="Earthing points" flush>
            <EarthingTable takeoff={takeoff} />
          </Panel>
        </div>
      </div>
      <Panel
        title="Take-off"
        note={`${formatCount(takeoff.lines.length, "line")}, ${formatQuantity(takeoff.massKg, "kg", 0)}, ${formatQuantity(takeoff.volumeL, "l", 0)}.`}
        foot={`Rules and figures are defaults from common practice and memory (policy version ${version}): confirm with the maker's instructions. Exact = before rounding; the programme's total adds the exact figures of lines that are rounded per order.`}
        flush
      >
        <LineTable takeoff={takeoff} />
      </Panel>
      <Disclosure summary="Antennas and radios of this end">
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

function RunTable({ end, catalogue }: { end: SiteEnd; catalogue: readonly CatalogueItem[] }) {
  return (
    <ScrollRegion label="IF cable runs">
      <table className="ui-facts">
        <thead>
          <tr>
            <th scope="col">Run</th>
            <th scope="col">Cable</th>
            <th scope="col" data-align="end">
              Route + surplus = cut <span className="ui-unit">m</span>
            </th>
            <th scope="col" data-align="end">
              Bends
            </th>
            <th scope="col" data-align="end">
              Loss of limit <span className="ui-unit">dB</span>
            </th>
            <th scope="col" data-align="end">
              At the ODU, least <span className="ui-unit">V</span>
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
                  {run.oduLabel} {run.role}
                </th>
                <td>
                  {run.cableCode}
                  {end.end.cableCode ? " (named in the design)" : " (lightest that passes)"}
                </td>
                <td data-align="end">
                  {formatNumber(run.routeM, 1)} + {formatNumber(run.cutM - run.routeM, 1)} ={" "}
                  <strong>{formatNumber(run.cutM, 1)}</strong>
                </td>
                <td data-align="end">{run.bends}</td>
                <td data-align="end">
                  {formatNumber(run.lossDbAtHigh, 1)} of {formatNumber(limits?.maxIfLossDb, 1)}
                </td>
                <td data-align="end">
                  {run.voltageAtOduV === undefined
                    ? "no working point"
                    : `${formatNumber(run.voltageAtOduV, 1)}, ${formatNumber(limits?.minVoltageV, 0)}`}
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

function EarthingTable({ takeoff }: { takeoff: EndTakeoff }) {
  return (
    <ScrollRegion label="Earthing points">
      <table className="ui-facts">
        <thead>
          <tr>
            <th scope="col">Run</th>
            <th scope="col">Point</th>
            <th scope="col" data-align="end">
              From the ODU <span className="ui-unit">m</span>
            </th>
            <th scope="col" data-align="end">
              Above ground <span className="ui-unit">m</span>
            </th>
            <th scope="col">Moved</th>
          </tr>
        </thead>
        <tbody>
          {takeoff.runs.flatMap((run) =>
            run.earthingPoints.map((p) => (
              <tr key={`${run.id} ${p.distanceM}`}>
                <th scope="row">{run.oduLabel}</th>
                <td>{p.kind}</td>
                <td data-align="end">{formatNumber(p.distanceM, 2, undefined, true)}</td>
                <td data-align="end">{formatNumber(p.heightM, 1, undefined, true)}</td>
                <td>{p.movedM > 0 ? `${formatMetres(p.movedM)}, clear of a bend` : "no"}</td>
              </tr>
            )),
          )}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

function LineTable({ takeoff }: { takeoff: EndTakeoff }) {
  return (
    <ScrollRegion label="Take-off lines" className="max-md:px-4">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">Item</th>
            <th scope="col">Code</th>
            <th scope="col">Rounded</th>
            <th scope="col">Exact</th>
            <th scope="col">Rounded per</th>
            <th scope="col">Owner</th>
            <th scope="col">Why</th>
          </tr>
        </thead>
        <tbody>
          {takeoff.lines.map((l) => (
            <tr key={`${l.ruleId} ${l.itemCode}`}>
              <th data-label="Item" scope="row">
                {l.name}
              </th>
              <td data-label="Code">
                <code>{l.itemCode}</code>
              </td>
              <td data-label="Rounded">
                {l.level === "order" ? "per order" : formatAmount(l.quantity, l.unit)}
              </td>
              <td data-label="Exact">{formatAmount(l.exact, l.unit)}</td>
              <td data-label="Rounded per">
                {l.level}, {formatNumber(l.step, 2)} {l.unit}
              </td>
              <td data-label="Owner">{l.owner}</td>
              <td data-label="Why" className="min-w-72">
                {l.reason}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

function DesignTables({ end }: { end: SiteEnd }) {
  return (
    <div className="grid gap-4">
      <ScrollRegion label="Antennas">
        <table className="ui-facts">
          <thead>
            <tr>
              <th scope="col">Antenna</th>
              <th scope="col" data-align="end">
                Mount height <span className="ui-unit">m</span>
              </th>
              <th scope="col" data-align="end">
                Diameter <span className="ui-unit">m</span>
              </th>
              <th scope="col">Polarisation</th>
              <th scope="col">Mount</th>
              <th scope="col">Owner</th>
            </tr>
          </thead>
          <tbody>
            {end.end.antennas.map((a) => (
              <tr key={a.label}>
                <th scope="row">{a.label}</th>
                <td data-align="end">{formatNumber(a.mountHeightM, 1)}</td>
                <td data-align="end">{formatNumber(a.diameterM, 1)}</td>
                <td>{a.polarisations.join(" and ")}</td>
                <td>{a.mount}</td>
                <td>{a.owner}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
      <ScrollRegion label="ODUs">
        <table className="ui-facts">
          <thead>
            <tr>
              <th scope="col">ODU</th>
              <th scope="col">Role</th>
              <th scope="col">Antenna</th>
              <th scope="col">Polarisation</th>
              <th scope="col">Band, sub-band, spacing, half</th>
              <th scope="col">Mounting</th>
              <th scope="col">Owner</th>
            </tr>
          </thead>
          <tbody>
            {end.end.odus.map((o) => (
              <tr key={o.label}>
                <th scope="row">{o.label}</th>
                <td>{o.role}</td>
                <td>{o.antennaLabel}</td>
                <td>{o.polarisation}</td>
                <td>
                  {o.bandGhz} GHz, {o.subBand}, {o.duplexSpacingMhz} MHz, {o.half}
                </td>
                <td>{o.mounting}</td>
                <td>{o.owner}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
    </div>
  );
}
