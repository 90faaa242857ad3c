import Link from "next/link";
import { LinkButton } from "@/app/_ui/Button";
import { Disclosure } from "@/app/_ui/Disclosure";
import { formatAmount, formatCount, formatDate, formatNumber } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import { isSaved, type OrderLineDue, type RunsOutRow } from "@/db/queries/stockViews";
import { SlipQuestion } from "./SlipQuestion";
import { itemPath, kitPath, orderPath, placeWords, visitWords } from "./words";

/** Lines that a transfer saves are no emergency: the rest stands folded. */
const SAVED_OPEN = 6;
/** Lines shown until all are asked for: the first to stop stand first, and thousands would make everybody wait. */
const ROWS_OPEN = 60;

export interface RunsOutProps {
  rows: readonly RunsOutRow[];
  /** Every line, however many. */
  isWhole: boolean;
  lines: readonly OrderLineDue[];
  slip?: string;
  days?: string;
}

/** What runs out, when, and which sites stop because of it; apart from it what a transfer saves. */
export function RunsOut({ rows, isWhole, lines, slip, days }: RunsOutProps) {
  const saved = rows.filter(isSaved);
  const open = rows.filter((r) => !isSaved(r));
  const most = isWhole ? Number.POSITIVE_INFINITY : ROWS_OPEN;
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
          <>
            <RunsOutTable label="Items that run out" rows={open.slice(0, most)} />
            <ShowAll shown={most} all={open.length} />
          </>
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
              <RunsOutTable label="Further items saved by a transfer" rows={saved.slice(SAVED_OPEN, most)} />
              <ShowAll shown={most} all={saved.length} />
            </Disclosure>
          ) : null}
        </Panel>
      ) : null}
      <SlipQuestion lines={lines} initialKey={slip} initialDays={days} />
    </div>
  );
}

function ShowAll({ shown, all }: { shown: number; all: number }) {
  return all > shown ? (
    <p className="px-4 py-3">
      {formatNumber(all - shown)} further lines stop later.{" "}
      <Link href="/stock?tab=runs-out&shown=all">Show all {formatNumber(all)}</Link>
    </p>
  ) : null;
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
                  <StateMark state="short">{formatCount(r.stopCount, "visit")}</StateMark>
                ) : r.stopCount > 0 ? (
                  <StateMark state="warn">{formatCount(r.stopCount, "visit")}</StateMark>
                ) : (
                  <StateMark state="warn">no visit yet</StateMark>
                )}
              </td>
              <td data-label="Sites">
                {r.firstStops.map((s, i) => (
                  <span key={s.visitId}>
                    {i > 0 ? ", " : ""}
                    <Link href={kitPath(s.visitId)}>
                      {s.siteCode} <span className="sr-only">for {visitWords(s.visitId)} on </span>
                      {formatDate(s.on, "day")}
                    </Link>
                  </span>
                ))}
                {r.stopCount > r.firstStops.length ? (
                  <>
                    {" "}
                    <Link href={`${itemPath(r.itemCode)}#stops`}>
                      and {formatNumber(r.stopCount - r.firstStops.length)} more
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
  const { transfers } = r;
  return (
    <>
      {transfers ? (
        <span className="block">
          <Link href="/stock?tab=transfers">Transfer</Link> of {formatAmount(transfers.quantity, r.unit)} from{" "}
          {transfers.fromPlaces.join(", ")} by {formatDate(transfers.sendOn, "day")}
          {r.stopCount > 0 && r.stopsLeft < r.stopCount
            ? ` saves ${r.stopsLeft === 0 ? "all of them" : formatCount(r.stopCount - r.stopsLeft, "visit")}`
            : ""}
        </span>
      ) : null}
      {r.nextReceipt ? (
        <span className="block">
          <Link href={orderPath(r.nextReceipt.orderCode)}>{r.nextReceipt.orderCode}</Link>,{" "}
          {formatAmount(r.nextReceipt.quantity, r.unit)} on {formatDate(r.nextReceipt.dueOn, "day")}
        </span>
      ) : null}
      {!transfers && !r.nextReceipt ? "none ordered" : null}
    </>
  );
}
