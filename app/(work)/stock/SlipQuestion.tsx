"use client";

import Link from "next/link";
import { useEffect, useState } from "react";
import { NumberInput, Select } from "@/app/_ui/Field";
import { formatAmount, formatCount, formatDate } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import type { OrderLineDue } from "@/db/queries/stockViews";
import type { SlipAnswer } from "./slip/route";
import { itemPath, kitPath, placeWords, visitWords } from "./words";

export interface SlipQuestionProps {
  lines: readonly OrderLineDue[];
  initialKey?: string;
  initialDays?: string;
}

const WEEK = "7";

/** What if this delivery slips? Asked and answered without leaving the page; kept in the address. */
export function SlipQuestion({ lines, initialKey, initialDays }: SlipQuestionProps) {
  const [key, setKey] = useState(
    lines.some((l) => l.key === initialKey) ? initialKey! : (lines[0]?.key ?? ""),
  );
  const [days, setDays] = useState(initialDays ?? WEEK);
  const [answer, setAnswer] = useState<SlipAnswer | null>(null);
  const [failed, setFailed] = useState<string | null>(null);
  const line = lines.find((l) => l.key === key);
  const isWhole = /^-?\d{1,3}$/.test(days);

  useEffect(() => {
    if (!key || !isWhole) return;
    const stop = new AbortController();
    fetch(`/stock/slip?${new URLSearchParams({ line: key, days })}`, { signal: stop.signal })
      .then(async (r) => {
        if (!r.ok) throw new Error(`the server answered ${r.status}`);
        setAnswer((await r.json()) as SlipAnswer);
        setFailed(null);
      })
      .catch((e: Error) => {
        if (e.name !== "AbortError") setFailed(e.message);
      });
    return () => stop.abort();
  }, [key, days, isWhole]);

  function keep(nextKey: string, nextDays: string): void {
    const params = new URLSearchParams(window.location.search);
    params.set("slip", nextKey);
    params.set("days", nextDays);
    window.history.replaceState(null, "", `?${params}`);
  }

  if (lines.length === 0) return null;
  const hit = answer?.hit ?? [];
  const later = Number(days);
  return (
    <Panel
      title="What if a delivery slips?"
      note="Against the kits of the plan in force, shelf by shelf; what a transfer from another warehouse can save is saved."
      id="slip"
    >
      <div className="ui-form">
        <div className="ui-form-row">
          <Select
            label="Order line"
            value={key}
            onChange={(e) => {
              setKey(e.target.value);
              keep(e.target.value, days);
            }}
            choices={lines.map((l) => ({
              value: l.key,
              label: `${l.orderCode}: ${formatAmount(l.quantity, l.unit)} ${l.itemCode}, due ${formatDate(l.dueOn, "day")}`,
            }))}
          />
          <NumberInput
            label="Days later"
            unit="days"
            step={1}
            min={-365}
            max={365}
            value={days}
            hint="Below nought: it comes earlier."
            error={isWhole ? undefined : `"${days}" is no whole number of days. Give one such as 7.`}
            onChange={(e) => {
              setDays(e.target.value);
              if (/^-?\d{1,3}$/.test(e.target.value)) keep(key, e.target.value);
            }}
          />
        </div>
        <div aria-live="polite" style={{ minHeight: "3.5rem" }}>
          {failed ? (
            <Notice kind="problem" title="No answer">
              {failed}. Change the days to ask again.
            </Notice>
          ) : !answer || !line ? (
            <p className="text-quiet">Asking ...</p>
          ) : hit.length === 0 ? (
            <Notice
              kind="good"
              title={`No further visit stops when ${line.itemCode} comes ${later < 0 ? `${formatCount(-later, "day")} earlier` : `${formatCount(later, "day")} later`}`}
            >
              {answer.stopsBefore > 0
                ? `${formatCount(answer.stopsBefore, "visit")} ${answer.stopsBefore === 1 ? "stops" : "stop"} for it now; ${formatCount(answer.stopsAfter, "visit")} then.`
                : "Its kits are covered either way."}
            </Notice>
          ) : (
            <>
              <Notice
                kind="problem"
                title={`${formatCount(hit.length, "more visit")} would be short, the first on ${formatDate(hit[0]!.on, "weekday")}`}
              >
                <Link href={itemPath(line.itemCode)}>{line.itemCode}</Link> {line.name}, due{" "}
                {formatDate(answer.dueOn, "weekday")} instead of {formatDate(line.dueOn, "weekday")}.
              </Notice>
              <ScrollRegion label="Visits hit by the slip">
                <table className="ui-facts">
                  <thead>
                    <tr>
                      <th scope="col">Visit</th>
                      <th scope="col">Site</th>
                      <th scope="col">Kit picked</th>
                      <th scope="col">At</th>
                      <th scope="col" data-align="end">
                        Missing
                      </th>
                      <th scope="col" data-align="end">
                        Missing now
                      </th>
                    </tr>
                  </thead>
                  <tbody>
                    {hit.map((h) => (
                      <tr key={`${h.visitId} ${h.on}`}>
                        <th scope="row">
                          <Link href={kitPath(h.visitId)}>{visitWords(h.visitId)}</Link>
                        </th>
                        <td>{h.siteCode}</td>
                        <td>{formatDate(h.on, "weekday")}</td>
                        <td>{placeWords(h.placeId)}</td>
                        <td data-align="end">{formatAmount(h.missing, line.unit)}</td>
                        <td data-align="end">{formatAmount(h.missingBefore, line.unit)}</td>
                      </tr>
                    ))}
                  </tbody>
                </table>
              </ScrollRegion>
            </>
          )}
          {(answer?.transfers ?? []).length > 0 && line ? (
            <p>
              Then worth sending:{" "}
              {answer!.transfers
                .map(
                  (t) =>
                    `${formatAmount(t.quantity, line.unit)} from ${t.fromPlace} to ${t.toPlace} by ${formatDate(t.sendOn, "day")}`,
                )
                .join("; ")}
              .
            </p>
          ) : null}
        </div>
      </div>
    </Panel>
  );
}
