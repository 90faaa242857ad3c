import Link from "next/link";
import { formatAmount, formatCount, formatDate } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { OrderLineDue, RunsOutRow } from "@/db/queries/stockViews";
import { SlipQuestion } from "./SlipQuestion";
import { itemPath, kitPath, orderPath, visitWords } from "./words";

const SITES_SHOWN = 4;

export interface RunsOutProps {
  rows: readonly RunsOutRow[];
  lines: readonly OrderLineDue[];
  slip?: string;
  days?: string;
}

/** What runs out, when, and which sites stop because of it. */
export function RunsOut({ rows, lines, slip, days }: RunsOutProps) {
  return (
    <div className="grid grid-cols-1 gap-4">
      <Panel
        title="What runs out, and what stops for it"
        note="With orders on the way, without new ones. Items that stop work first stand first."
        foot="Kits are picked one working day before the visit; a visit stops when a line of its kit is not there on that day."
        flush
      >
        {rows.length === 0 ? (
          <p className="px-4 py-3">
            Stock and orders on the way cover every planned kit and the safety stock.
          </p>
        ) : (
          <ScrollRegion label="Items that run out">
            <table className="ui-facts ui-facts-stack">
              <thead>
                <tr>
                  <th scope="col">Item</th>
                  <th scope="col">Runs out</th>
                  <th scope="col">Stops</th>
                  <th scope="col">Sites, first visit first</th>
                  <th scope="col" data-align="end">
                    On hand
                  </th>
                  <th scope="col" data-align="end">
                    Need to the end
                  </th>
                  <th scope="col">Next delivery</th>
                </tr>
              </thead>
              <tbody>
                {rows.map((r) => (
                  <tr key={r.itemCode}>
                    <th scope="row" data-label="Item">
                      <Link href={itemPath(r.itemCode)}>{r.itemCode}</Link> <small>{r.name}</small>
                    </th>
                    <td data-label="Runs out">{formatDate(r.runsOutOn, "weekday")}</td>
                    <td data-label="Stops">
                      {r.stops.length > 0 ? (
                        <StateMark state="short">{formatCount(r.stops.length, "visit")}</StateMark>
                      ) : (
                        <StateMark state="warn">no visit yet</StateMark>
                      )}
                    </td>
                    <td data-label="Sites">
                      {r.stops.slice(0, SITES_SHOWN).map((s, i) => (
                        <span key={s.visitId}>
                          {i > 0 ? ", " : ""}
                          <Link href={kitPath(s.visitId)}>
                            {s.siteCode} <span className="sr-only">for {visitWords(s.visitId)} on </span>
                            {formatDate(s.on, "day")}
                          </Link>
                        </span>
                      ))}
                      {r.stops.length > SITES_SHOWN ? (
                        <>
                          {" "}
                          <Link href={`${itemPath(r.itemCode)}#stops`}>
                            and {r.stops.length - SITES_SHOWN} more
                          </Link>
                        </>
                      ) : null}
                    </td>
                    <td data-label="On hand" data-align="end">
                      {formatAmount(r.onHand, r.unit)}
                    </td>
                    <td data-label="Need" data-align="end">
                      {formatAmount(r.need, r.unit)}
                    </td>
                    <td data-label="Next delivery">
                      {r.nextReceipt ? (
                        <>
                          <Link href={orderPath(r.nextReceipt.orderCode)}>{r.nextReceipt.orderCode}</Link>,{" "}
                          {formatAmount(r.nextReceipt.quantity, r.unit)} on{" "}
                          {formatDate(r.nextReceipt.dueOn, "day")}
                        </>
                      ) : (
                        "none ordered"
                      )}
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </ScrollRegion>
        )}
      </Panel>
      <SlipQuestion lines={lines} initialKey={slip} initialDays={days} />
    </div>
  );
}
