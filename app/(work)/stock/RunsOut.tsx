import Link from "next/link";
import { LinkButton } from "@/app/_ui/Button";
import { Disclosure } from "@/app/_ui/Disclosure";
import { formatAmount, formatCount, formatDate } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import { isSaved, type OrderLineDue, type RunsOutRow } from "@/db/queries/stockViews";
import { SlipQuestion } from "./SlipQuestion";
import { itemPath, kitPath, orderPath, placeWords, visitWords } from "./words";

const SITES_SHOWN = 4;
/** Lines that a transfer saves are no emergency: the rest stands folded. */
const SAVED_OPEN = 6;

export interface RunsOutProps {
  rows: readonly RunsOutRow[];
  lines: readonly OrderLineDue[];
  slip?: string;
  days?: string;
}

/** What runs out, when, and which sites stop because of it; apart from it what a transfer saves. */
export function RunsOut({ rows, lines, slip, days }: RunsOutProps) {
  const saved = rows.filter(isSaved);
  const open = rows.filter((r) => !isSaved(r));
  return (
    <div className="grid grid-cols-1 gap-4">
      <Panel
        title="What runs out, and what stops for it"
        note="Shelf by shelf, with orders and planned transfers on the way, without new ones. What stops work first stands first."
        foot="Kits are picked one working day before the visit, each at its own warehouse; a visit stops when a line of its kit is not there on that day. Cable is netted for all warehouses together: the cutting list says which drum each run comes from."
        flush
      >
        {open.length === 0 ? (
          <p className="px-4 py-3">
            Stock, transfers and orders on the way cover every planned kit and the safety stock.
          </p>
        ) : (
          <RunsOutTable label="Items that run out" rows={open} />
        )}
      </Panel>
      {saved.length > 0 ? (
        <Panel
          title={`Short on one shelf, saved by a transfer: ${formatCount(saved.length, "line")}`}
          note="Another warehouse has it to spare. Nothing moves by itself: plan the transfers."
          actions={<LinkButton href="/stock?tab=transfers">Plan transfers</LinkButton>}
          flush
        >
          <RunsOutTable label="Items saved by a transfer" rows={saved.slice(0, SAVED_OPEN)} />
          {saved.length > SAVED_OPEN ? (
            <Disclosure summary={`${formatCount(saved.length - SAVED_OPEN, "further line")}`}>
              <RunsOutTable label="Further items saved by a transfer" rows={saved.slice(SAVED_OPEN)} />
            </Disclosure>
          ) : null}
        </Panel>
      ) : null}
      <SlipQuestion lines={lines} initialKey={slip} initialDays={days} />
    </div>
  );
}

function RunsOutTable({ label, rows }: { label: string; rows: readonly RunsOutRow[] }) {
  return (
    <ScrollRegion label={label}>
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">Item</th>
            <th scope="col">At</th>
            <th scope="col">Runs out</th>
            <th scope="col">Stops</th>
            <th scope="col">Sites, first visit first</th>
            <th scope="col" data-align="end">
              On hand
            </th>
            <th scope="col" data-align="end">
              Need to the end
            </th>
            <th scope="col">What helps</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((r) => (
            <tr key={`${r.itemCode} ${r.placeCode}`}>
              <th scope="row" data-label="Item">
                <Link href={itemPath(r.itemCode)}>{r.itemCode}</Link> <small>{r.name}</small>
              </th>
              <td data-label="At">{placeWords(r.placeCode)}</td>
              <td data-label="Runs out">{formatDate(r.runsOutOn, "weekday")}</td>
              <td data-label="Stops">
                {r.stopsLeft > 0 ? (
                  <StateMark state="short">{formatCount(r.stops.length, "visit")}</StateMark>
                ) : r.stops.length > 0 ? (
                  <StateMark state="warn">{formatCount(r.stops.length, "visit")}</StateMark>
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
              <td data-label="What helps">
                <Help row={r} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

/** Transfers first, then what is on the way, then what is left to buy. */
function Help({ row: r }: { row: RunsOutRow }) {
  const first = r.transfers[0];
  const sent = r.transfers.reduce((sum, t) => sum + t.quantity, 0);
  return (
    <>
      {first ? (
        <span className="block">
          <Link href="/stock?tab=transfers">Transfer</Link> of {formatAmount(sent, r.unit)} from{" "}
          {[...new Set(r.transfers.map((t) => t.fromPlace))].join(", ")} by {formatDate(first.sendOn, "day")}
          {r.stops.length > 0 && r.stopsLeft < r.stops.length
            ? ` saves ${r.stopsLeft === 0 ? "all of them" : formatCount(r.stops.length - r.stopsLeft, "visit")}`
            : ""}
        </span>
      ) : null}
      {r.nextReceipt ? (
        <span className="block">
          <Link href={orderPath(r.nextReceipt.orderCode)}>{r.nextReceipt.orderCode}</Link>,{" "}
          {formatAmount(r.nextReceipt.quantity, r.unit)} on {formatDate(r.nextReceipt.dueOn, "day")}
        </span>
      ) : null}
      {!first && !r.nextReceipt ? "none ordered" : null}
    </>
  );
}
