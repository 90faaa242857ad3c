import { formatCount, formatInstant } from "@/app/_ui/format";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import type { StoredRejection } from "@/db/queries/actuals";
import type { HourCalibration, ProposalLevel } from "@/lib/calibration";
import { figureOf, LEVEL_WORDS, subjectOf } from "./words";

/** Every accepted factor, with how many actuals stood behind it when it was accepted. */
export function FactorsInForce({
  calibration: c,
  partName,
}: {
  calibration: HourCalibration;
  partName: (part: string) => string;
}) {
  const rows = [
    ...Object.entries(c.work).map(([key, f]) => ["work", key, f.factor, f.actuals] as const),
    ...Object.entries(c.crews).map(([key, f]) => ["crew", key, f.factor, f.actuals] as const),
    ...Object.entries(c.crewSchemes).flatMap(([crew, schemes]) =>
      Object.entries(schemes).map(
        ([scheme, f]) => ["crew and scheme", `${crew}|${scheme}`, f.factor, f.actuals] as const,
      ),
    ),
    ...Object.entries(c.parts).map(([key, f]) => ["part", key, f.factor, f.actuals] as const),
    ...(c.spread ? [["range", "all", c.spread.logSd, c.spread.actuals] as const] : []),
  ];
  if (rows.length === 0)
    return (
      <p className="px-4 py-3">
        None: hours are the norms' alone. A factor enters only when a person accepts it.
      </p>
    );
  return (
    <ScrollRegion label="Factors in force" className="max-md:px-4">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">For</th>
            <th scope="col">Factor</th>
            <th scope="col">Accepted from</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(([level, key, factor, actuals]) => (
            <tr key={`${level} ${key}`}>
              <th scope="row" data-label="For">
                {subjectOf({ level, key }, partName)}
              </th>
              <td data-label="Factor">{figureOf(level, factor)}</td>
              <td data-label="Accepted from">{formatCount(actuals, "actual")}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

/** Who turned which proposal down and why, newest first. */
export function Rejections({
  rows,
  zone,
  partName,
}: {
  rows: readonly StoredRejection[];
  zone: string;
  partName: (part: string) => string;
}) {
  return (
    <ScrollRegion label="Rejected proposals" className="max-md:px-4">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">When</th>
            <th scope="col">For</th>
            <th scope="col">Proposed then</th>
            <th scope="col">Actuals then</th>
            <th scope="col">Who</th>
            <th scope="col">Why</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((r) => {
            const at = r.proposalId.indexOf(": ");
            const level = r.proposalId.slice(0, at) as ProposalLevel;
            const key = r.proposalId.slice(at + 2);
            return (
              <tr key={r.id}>
                <th scope="row" data-label="When">
                  {formatInstant(r.rejectedAt, zone)}
                </th>
                <td data-label="For">
                  {subjectOf({ level, key }, partName)} ({LEVEL_WORDS[level]})
                </td>
                <td data-label="Proposed then">{figureOf(level, r.proposed)}</td>
                <td data-label="Actuals then">{r.actuals}</td>
                <td data-label="Who">{r.rejectedBy}</td>
                <td data-label="Why">{r.reason}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
