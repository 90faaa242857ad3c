import Link from "next/link";
import { formatCount, formatDate, formatShare } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { Stat, StatRow } from "@/app/_ui/Stat";
import type { HopProgress, RiskByName } from "@/lib/programme";
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
        <StatRow>
          <Stat label="Last promise" figure={formatDate(promised, "day")} />
          <Stat label="Planned" figure={formatDate(finish.plannedOn, "day")} limit="last placed visit" />
          <Stat label="P50" figure={formatDate(finish.p50On, "day")} limit="one run of two" />
          <Stat
            label="P80"
            figure={finish.p80On ? formatDate(finish.p80On, "day") : "later"}
            limit={finish.p80On ? "four runs of five" : `than ${formatDate(risk.followedTo, "day")}`}
          />
          <Stat label="All promises kept" figure={formatShare(risk.allPromisesMetShare)} limit="of runs" />
        </StatRow>
      ) : (
        <p>
          The plan in force has not been run through hours and weather yet.{" "}
          <Link href="/programme/finish">Work out how sure it is</Link>.
        </p>
      )}
    </Panel>
  );
}
