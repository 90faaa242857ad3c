import Link from "next/link";
import { formatCount, formatDate, formatShare } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { Stat, StatRow } from "@/app/_ui/Stat";
import type { HopProgress, RiskByName } from "@/lib/programme";
import { hopPath } from "../hops/hopStates";
import { lastPromise } from "./finish/words";

/** Promise, plan, P50 and P80 of the whole programme, and the way to what drives them. */
export function FinishPanel({ risk, hops }: { risk?: RiskByName; hops: readonly HopProgress[] }) {
  const promised = lastPromise(hops);
  const finish = risk?.programme;
  return (
    <Panel
      title="When it is finished"
      note="P50: by then in one run of two; P80: in four of five."
      actions={<Link href="/programme/finish">What drives the finish</Link>}
      foot={
        risk
          ? `The plan in force run ${formatCount(risk.runs, "time")} from ${formatDate(risk.asOf)} on, its order kept; only hops with every visit placed.`
          : undefined
      }
    >
      {finish ? (
        <>
          <StatRow>
            <Stat label="Last promise" figure={formatDate(promised, "day")} />
            <Stat label="Planned" figure={formatDate(finish.plannedOn, "day")} limit="last placed visit" />
            <Stat label="P50" figure={formatDate(finish.p50On, "day")} limit="one run of two" />
            <Stat
              label="P80"
              figure={finish.p80On ? formatDate(finish.p80On, "day") : "later"}
              limit={finish.p80On ? "four runs of five" : `than ${formatDate(risk.followedTo, "day")}`}
            />
            <Stat
              label="P90"
              figure={finish.p90On ? formatDate(finish.p90On, "day") : "later"}
              limit="nine runs of ten"
            />
            <Stat label="All promises kept" figure={formatShare(risk.allPromisesMetShare)} limit="of runs" />
          </StatRow>
          <LeastSure hops={hops} />
        </>
      ) : (
        <p>
          The plan in force has not been run through hours and weather yet.{" "}
          <Link href="/programme/finish">Work out how sure it is</Link>.
        </p>
      )}
    </Panel>
  );
}

const SHOWN = 8;

/** The hops whose promise is met in the fewest runs; all of them stand on the page behind the link. */
function LeastSure({ hops }: { hops: readonly HopProgress[] }) {
  const simulated = hops
    .filter((h) => h.p50On !== undefined)
    .sort(
      (a, b) =>
        (a.promiseMetShare ?? 2) - (b.promiseMetShare ?? 2) ||
        (a.promisedOn ?? "9").localeCompare(b.promisedOn ?? "9") ||
        a.hopCode.localeCompare(b.hopCode),
    );
  return (
    <>
      <ScrollRegion label="Finish of the hops least sure of their promise" className="mt-4">
        <table className="ui-facts">
          <thead>
            <tr>
              <th scope="col">Hop</th>
              <th scope="col">Promised</th>
              <th scope="col">Planned</th>
              <th scope="col">P50</th>
              <th scope="col">P80</th>
              <th scope="col">Promise met</th>
            </tr>
          </thead>
          <tbody>
            {simulated.slice(0, SHOWN).map((h) => (
              <tr key={h.hopCode}>
                <th scope="row">
                  <Link href={hopPath(h.hopCode)}>{h.hopCode}</Link>
                </th>
                <td>{formatDate(h.promisedOn, "day")}</td>
                <td>{formatDate(h.plannedOn, "day")}</td>
                <td>{formatDate(h.p50On, "day")}</td>
                <td>{formatDate(h.p80On, "day")}</td>
                <td>{formatShare(h.promiseMetShare)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
      {simulated.length > SHOWN ? (
        <p className="py-2">
          <Link href="/programme/finish?by=hops">
            {formatCount(simulated.length - SHOWN, "more hop")}, surer of their promise
          </Link>
        </p>
      ) : null}
    </>
  );
}
