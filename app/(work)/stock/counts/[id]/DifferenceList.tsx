import Link from "next/link";
import { Disclosure } from "@/app/_ui/Disclosure";
import { formatCount, formatMoney } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { CountDifference } from "@/db/queries/counts";
import { amountC, itemPath, moneyWords } from "../../words";

/** What was counted against the ledger, what differs first. */
export function DifferenceList({ rows }: { rows: readonly CountDifference[] }) {
  const differing = rows.filter((r) => r.differenceC !== 0);
  const same = rows.filter((r) => r.differenceC === 0);
  return (
    <Panel
      title={
        differing.length === 0
          ? "Everything is as the ledger has it"
          : `${formatCount(differing.length, "line")} differ`
      }
      note={
        differing.length === 0
          ? undefined
          : `${moneyWords(differing.map((r) => ({ minor: r.valueMinor, currency: r.currency })))} at catalogue prices, more counted than booked as plus.`
      }
      flush
    >
      {differing.length > 0 ? <Rows label="Lines that differ" rows={differing} /> : null}
      {same.length > 0 ? (
        <Disclosure summary={`${formatCount(same.length, "line")} as booked`} open={differing.length === 0}>
          <Rows label="Lines as booked" rows={same} />
        </Disclosure>
      ) : null}
    </Panel>
  );
}

function Rows({ label, rows }: { label: string; rows: readonly CountDifference[] }) {
  return (
    <ScrollRegion label={label}>
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">Item</th>
            <th scope="col">Lot or drum</th>
            <th scope="col" data-align="end">
              Counted
            </th>
            <th scope="col" data-align="end">
              In the ledger
            </th>
            <th scope="col" data-align="end">
              Difference
            </th>
            <th scope="col" data-align="end">
              Worth
            </th>
            <th scope="col">Counted by</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((r) => (
            <tr key={r.lineNo}>
              <th scope="row" data-label="Item">
                <Link href={itemPath(r.itemCode)}>{r.itemCode}</Link> <small>{r.name}</small>
              </th>
              <td data-label="Lot or drum">{r.lotCode || r.drumSerial || "–"}</td>
              <td data-label="Counted" data-align="end">
                {amountC(r.countedC ?? 0, r.unit)}
              </td>
              <td data-label="In the ledger" data-align="end">
                {amountC(r.bookC, r.unit)}
              </td>
              <td data-label="Difference" data-align="end">
                {r.differenceC === 0 ? (
                  <StateMark state="met">none</StateMark>
                ) : (
                  <StateMark state={r.differenceC < 0 ? "short" : "warn"}>
                    {r.differenceC > 0 ? "+" : ""}
                    {amountC(r.differenceC, r.unit)}
                  </StateMark>
                )}
              </td>
              <td data-label="Worth" data-align="end">
                {formatMoney(r.valueMinor, r.currency)}
              </td>
              <td data-label="Counted by">{r.countedByName}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
