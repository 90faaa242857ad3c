import Link from "next/link";
import { formatAmount, formatDate, formatDaysLate } from "@/app/_ui/format";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { FaultView } from "@/db/queries/faultViews";
import { type CalendarDate, daysBetween } from "@/lib/time";
import { faultPath, itemPath, kitPath, visitWords } from "../words";
import { FaultStateMark } from "./FaultStateMark";

export interface FaultTableProps {
  label: string;
  rows: readonly FaultView[];
  today: CalendarDate;
}

export function FaultTable({ label, rows, today }: FaultTableProps) {
  return (
    <ScrollRegion label={label}>
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">Fault</th>
            <th scope="col">Item</th>
            <th scope="col">Serial</th>
            <th scope="col">What is wrong</th>
            <th scope="col">Found</th>
            <th scope="col">From</th>
            <th scope="col">State</th>
            <th scope="col">Expected back</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((f) => (
            <tr key={f.id}>
              <th scope="row" data-label="Fault">
                <Link href={faultPath(f.id)}>Fault {f.id}</Link>
              </th>
              <td data-label="Item">
                <Link href={itemPath(f.itemCode)}>{f.itemCode}</Link>
                {f.quantity > 1 ? ` x ${formatAmount(f.quantity, f.unit)}` : ""}
                {f.owner === "customer" ? <small> customer's</small> : null}
              </td>
              <td data-label="Serial">{f.serial ?? "–"}</td>
              <td data-label="What is wrong">
                <span>
                  {f.cause}: {f.symptom}
                </span>
              </td>
              <td data-label="Found">
                <span>
                  {formatDate(f.foundOn)}
                  {f.visitId ? (
                    <>
                      {" "}
                      <Link href={kitPath(f.visitId)}>{visitWords(f.visitId)}</Link>
                    </>
                  ) : null}
                </span>
              </td>
              <td data-label="From">{f.supplier || "not known"}</td>
              <td data-label="State">
                <span>
                  <FaultStateMark state={f.state} />
                  <small>
                    {" "}
                    {f.placeName ?? (f.replacedBy ? `by ${f.replacedBy}` : "")} since {formatDate(f.since)}
                  </small>
                </span>
              </td>
              <td data-label="Expected back">
                {f.state !== "in repair" ? (
                  "–"
                ) : f.expectedBackOn === null ? (
                  <StateMark state="open">no day promised</StateMark>
                ) : f.expectedBackOn < today ? (
                  <StateMark state="late">
                    {formatDate(f.expectedBackOn)}: {formatDaysLate(daysBetween(f.expectedBackOn, today))}
                  </StateMark>
                ) : (
                  formatDate(f.expectedBackOn, "weekday")
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
