import { formatClock, formatCount, formatDate, formatNumber } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import type { BrokenByName, CostChange, NamedVisit, VisitShift } from "@/lib/programme";

export interface Effect {
  shifts: VisitShift[];
  broken: BrokenByName[];
  changes: CostChange[];
  total: number;
}

const placeWords = (v: NamedVisit | undefined) =>
  v ? `${v.crewCode}, ${formatDate(v.startOn, "weekday")} ${formatClock(v.startMin)}` : "no place";

/** What an edit would do: rules it breaks, terms of the cost, visits with new times. */
export function EffectShown({ effect }: { effect: Effect }) {
  const { shifts, broken, changes } = effect;
  return (
    <>
      {broken.length > 0 ? (
        <Notice kind="problem" title={`Breaks ${formatCount(broken.length, "hard rule")}`}>
          <ul>
            {broken.map((b) => (
              <li key={b.message}>
                <strong>{b.rule}</strong>: {b.message}
              </li>
            ))}
          </ul>
        </Notice>
      ) : (
        <Notice kind="good" title={shifts.length === 0 ? "It stands there already" : "Breaks no hard rule"}>
          {shifts.length > 1 ? `${formatCount(shifts.length, "visit")} get new times.` : null}
        </Notice>
      )}
      {changes.length > 0 ? (
        <ScrollRegion label="What it changes">
          <table className="ui-facts">
            <caption>What it changes</caption>
            <thead>
              <tr>
                <th scope="col">Term</th>
                <th scope="col" data-align="end">
                  Now
                </th>
                <th scope="col" data-align="end">
                  Then
                </th>
                <th scope="col" data-align="end">
                  Change
                </th>
              </tr>
            </thead>
            <tbody>
              {changes.map((c) => (
                <tr key={c.label}>
                  <th scope="row">
                    {c.label} <span className="ui-unit">{c.unit}</span>
                  </th>
                  <td data-align="end">{formatNumber(c.before, 1)}</td>
                  <td data-align="end">{formatNumber(c.after, 1)}</td>
                  <td data-align="end">{signed(c.after - c.before)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </ScrollRegion>
      ) : null}
      {shifts.length > 0 ? (
        <ScrollRegion label="Visits with new times">
          <table className="ui-facts">
            <caption>Visits with new times</caption>
            <thead>
              <tr>
                <th scope="col">Visit</th>
                <th scope="col">From</th>
                <th scope="col">To</th>
              </tr>
            </thead>
            <tbody>
              {shifts.map((s) => (
                <tr key={s.visitId}>
                  <th scope="row">{s.visitId}</th>
                  <td>{placeWords(s.from)}</td>
                  <td>{s.to ? placeWords(s.to) : `no place: ${s.unplaced?.rule ?? "nothing fits"}`}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </ScrollRegion>
      ) : null}
    </>
  );
}

export const signed = (value: number) => `${value > 0 ? "+" : ""}${formatNumber(value, 1)}`;
