import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import type { BacktestLine, Errors } from "@/lib/calibration";
import { biasWords, percent } from "./words";

/** How far off the estimates were, line by line, in force and as proposed on actuals held out. */
export function BacktestTable({
  label,
  head,
  lines,
  withProposed,
}: {
  label: string;
  head: string;
  lines: readonly (BacktestLine & { name?: string })[];
  withProposed: boolean;
}) {
  return (
    <ScrollRegion label={label} className="max-md:px-4">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">{head}</th>
            <th scope="col">Actuals</th>
            <th scope="col">Error in force</th>
            <th scope="col">Estimates in force are</th>
            {withProposed ? (
              <>
                <th scope="col">Between P10 and P90</th>
                <th scope="col">Error as proposed</th>
                <th scope="col">Proposed are</th>
                <th scope="col">Between P10 and P90 as proposed</th>
              </>
            ) : null}
          </tr>
        </thead>
        <tbody>
          {lines.map((l) => (
            <tr key={l.key}>
              <th scope="row" data-label={head}>
                {l.name ?? l.key}
              </th>
              <td data-label="Actuals">{l.inForce.actuals}</td>
              <td data-label="Error in force">{percent(l.inForce.mape)}</td>
              <td data-label="Estimates in force are">{biasWords(l.inForce)}</td>
              {withProposed ? <Proposed inForce={l.inForce} proposed={l.proposed} /> : null}
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

function Proposed({ inForce, proposed }: { inForce: Errors; proposed?: Errors }) {
  return (
    <>
      <td data-label="Between P10 and P90">{percent(inForce.coverage)}</td>
      <td data-label="Error as proposed">
        <strong>{percent(proposed?.mape)}</strong>
      </td>
      <td data-label="Proposed are">{proposed ? biasWords(proposed) : "\u2013"}</td>
      <td data-label="Between P10 and P90 as proposed">{percent(proposed?.coverage)}</td>
    </>
  );
}
