import Link from "next/link";
import { formatDate, formatInstant } from "@/app/_ui/format";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { LedgerRow } from "@/db/queries/stock";
import { TakeBackButton } from "./TakeBackButton";
import { amountC, faultPath, itemPath, kitPath, ledgerPath, orderPath, visitWords } from "./words";

export interface LedgerRowsProps {
  rows: readonly LedgerRow[];
  /** Rows taken back, with the row that did it. */
  reversed: ReadonlyMap<number, number>;
  zone: string;
  mayPost: boolean;
}

export function LedgerRows({ rows, reversed, zone, mayPost }: LedgerRowsProps) {
  return (
    <ScrollRegion label="Ledger, newest first">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col" data-align="end">
              Row
            </th>
            <th scope="col">What</th>
            <th scope="col">Item</th>
            <th scope="col" data-align="end">
              Quantity
            </th>
            <th scope="col">From, to</th>
            <th scope="col">Counts on</th>
            <th scope="col">For</th>
            <th scope="col">Why, who, when</th>
            <th scope="col">Taken back</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((r) => {
            const by = reversed.get(r.id);
            return (
              <tr key={r.id} id={`row-${r.id}`}>
                <th scope="row" data-label="Row" data-align="end">
                  {r.id}
                </th>
                <td data-label="What">
                  {r.kind}
                  {r.correctsId ? <small> of row {r.correctsId}</small> : null}
                </td>
                <td data-label="Item">
                  <Link href={itemPath(r.itemCode)}>{r.itemCode}</Link>
                  {r.drumSerial ? (
                    <>
                      {" "}
                      <Link href={ledgerPath({ drum: r.drumSerial })}>{r.drumSerial}</Link>
                    </>
                  ) : null}
                  {r.serial ? <small> serial {r.serial}</small> : null}
                  {r.lotCode ? <small> lot {r.lotCode}</small> : null}
                  {r.owner === "customer" ? <small> customer's</small> : null}
                </td>
                <td data-label="Quantity" data-align="end">
                  {amountC(r.quantityC, r.unit)}
                </td>
                <td data-label="From, to">
                  {r.fromPlace ?? "outside"} to {r.toPlace ?? "outside"}
                </td>
                <td data-label="Counts on">{formatDate(r.effectiveOn)}</td>
                <td data-label="For">
                  {r.visitId ? <Link href={kitPath(r.visitId)}>{visitWords(r.visitId)}</Link> : null}
                  {r.orderCode ? <Link href={orderPath(r.orderCode)}>{r.orderCode}</Link> : null}{" "}
                  {r.faultId ? <Link href={faultPath(r.faultId)}>fault {r.faultId}</Link> : null}
                </td>
                <td data-label="Why, who, when">
                  {r.reason}{" "}
                  <small>
                    {r.postedBy}, {formatInstant(r.postedAt, zone)}
                  </small>
                </td>
                <td data-label="Taken back">
                  {by ? (
                    <StateMark state="none">by row {by}</StateMark>
                  ) : mayPost && r.kind !== "reversal" ? (
                    <TakeBackButton
                      id={r.id}
                      what={`${r.kind} of ${amountC(r.quantityC, r.unit)} ${r.itemCode}`}
                    />
                  ) : null}
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
