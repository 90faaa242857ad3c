import Link from "next/link";
import { serverWords } from "@/app/_server/language";
import { formatDate } from "@/app/_ui/format";
import { visitName } from "@/app/_ui/language/visitName";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { FaultView } from "@/db/queries/faultViews";
import { type CalendarDate, daysBetween } from "@/lib/time";
import { faultPath, foundWords, itemPath, kitPath } from "../words";
import { FaultStateMark } from "./FaultStateMark";

export interface FaultTableProps {
  label: string;
  rows: readonly FaultView[];
  today: CalendarDate;
}

export async function FaultTable({ label, rows, today }: FaultTableProps) {
  const { t, locale, amount, daysLate } = await serverWords();
  return (
    <ScrollRegion label={label}>
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">{t("Fault")}</th>
            <th scope="col">{t("Item")}</th>
            <th scope="col">{t("Serial or drum")}</th>
            <th scope="col">{t("What is wrong")}</th>
            <th scope="col">{t("Found")}</th>
            <th scope="col">{t("From")}</th>
            <th scope="col">{t("State")}</th>
            <th scope="col">{t("Expected back")}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((f) => (
            <tr key={f.id}>
              <th scope="row" data-label={t("Fault")}>
                <Link href={faultPath(f.id)}>{t("Fault {{id}}", { id: String(f.id) })}</Link>
              </th>
              <td data-label={t("Item")}>
                <Link href={itemPath(f.itemCode)}>{f.itemCode}</Link>
                {f.quantity > 1 ? ` x ${amount(f.quantity, f.unit)}` : ""}
                {f.owner === "customer" ? <small> {t("customer's")}</small> : null}
              </td>
              <td data-label={t("Serial or drum")}>{f.serial ?? f.drumSerial ?? "–"}</td>
              <td data-label={t("What is wrong")}>
                <span>
                  {foundWords(f, t)}: {f.symptom}
                </span>
              </td>
              <td data-label={t("Found")}>
                <span>
                  {formatDate(f.foundOn, "full", locale)}
                  {f.visitId ? (
                    <>
                      {" "}
                      <Link href={kitPath(f.visitId)}>{visitName(f.visitId, t)}</Link>
                    </>
                  ) : null}
                </span>
              </td>
              <td data-label={t("From")}>{f.supplier || t("not known")}</td>
              <td data-label={t("State")}>
                <span>
                  <FaultStateMark state={f.state} />
                  <small>
                    {" "}
                    {t("{{placeName}} since {{since}}", {
                      placeName:
                        f.placeName ??
                        (f.replacedBy ? t("by {{replacedBy}}", { replacedBy: f.replacedBy }) : ""),
                      since: formatDate(f.since, "full", locale),
                    })}
                  </small>
                </span>
              </td>
              <td data-label={t("Expected back")}>
                {f.state !== "in repair" ? (
                  "–"
                ) : f.expectedBackOn === null ? (
                  <StateMark state="open">{t("no day promised")}</StateMark>
                ) : f.expectedBackOn < today ? (
                  <StateMark state="late">
                    {formatDate(f.expectedBackOn, "full", locale)}:{" "}
                    {daysLate(daysBetween(f.expectedBackOn, today))}
                  </StateMark>
                ) : (
                  formatDate(f.expectedBackOn, "weekday", locale)
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
