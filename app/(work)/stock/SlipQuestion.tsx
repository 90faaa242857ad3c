"use client";

import Link from "next/link";
import { useEffect, useState } from "react";
import { NumberInput, Select } from "@/app/_ui/Field";
import { formatDate } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { visitName } from "@/app/_ui/language/visitName";
import { Notice } from "@/app/_ui/Notice";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import type { OrderLineDue } from "@/db/queries/itemWhatIf";
import type { SlipAnswer } from "./slip/route";
import { itemPath, kitPath, placeWords } from "./words";

export interface SlipQuestionProps {
  lines: readonly OrderLineDue[];
  initialKey?: string;
  initialDays?: string;
}

const WEEK = "7";

/** What if this delivery slips? Asked and answered without leaving the page; kept in the address. */
export function SlipQuestion({ lines, initialKey, initialDays }: SlipQuestionProps) {
  const words = useWords();
  const { t, locale, amount } = words;
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
        if (!r.ok) throw new Error(String(r.status));
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
      title={t("What if a delivery slips?")}
      note={t(
        "Against the kits of the plan in force, shelf by shelf; what a transfer from another warehouse can save is saved.",
      )}
      id="slip"
    >
      <div className="ui-form">
        <div className="ui-form-row">
          <Select
            label={t("Order line")}
            value={key}
            onChange={(e) => {
              setKey(e.target.value);
              keep(e.target.value, days);
            }}
            choices={lines.map((l) => ({
              value: l.key,
              label: t("{{order}}: {{quantity}} {{item}}, due {{due}}", {
                order: l.orderCode,
                quantity: amount(l.quantity, l.unit),
                item: l.itemCode,
                due: formatDate(l.dueOn, "day", locale),
              }),
            }))}
          />
          <NumberInput
            label={t("Days later")}
            unit={t("days")}
            step={1}
            min={-365}
            max={365}
            value={days}
            hint={t("Below nought: it comes earlier.")}
            error={
              isWhole
                ? undefined
                : t("{{days}} is no whole number of days. Give one such as 7.", { days: `"${days}"` })
            }
            onChange={(e) => {
              setDays(e.target.value);
              if (/^-?\d{1,3}$/.test(e.target.value)) keep(key, e.target.value);
            }}
          />
        </div>
        <div aria-live="polite" style={{ minHeight: "3.5rem" }}>
          {failed ? (
            <Notice kind="problem" title={t("No answer")}>
              {/^\d+$/.test(failed)
                ? t("the server answered {{failed}}. Change the days to ask again.", { failed })
                : t("{{failed}}. Change the days to ask again.", { failed })}
            </Notice>
          ) : !answer || !line ? (
            <p className="text-quiet">{t("Asking ...")}</p>
          ) : hit.length === 0 ? (
            <Notice
              kind="good"
              title={
                later < 0
                  ? t("No further visit stops when {{item}} comes {{count}} days earlier", {
                      item: line.itemCode,
                      count: -later,
                    })
                  : t("No further visit stops when {{item}} comes {{count}} days later", {
                      item: line.itemCode,
                      count: later,
                    })
              }
            >
              {answer.stopsBefore > 0
                ? t("{{count}} visits stop for it now; {{after}} then.", {
                    count: answer.stopsBefore,
                    after: t("{{count}} visits", { count: answer.stopsAfter }),
                  })
                : t("Its kits are covered either way.")}
            </Notice>
          ) : (
            <>
              <Notice
                kind="problem"
                title={t("{{count}} more visits would be short, the first on {{on}}", {
                  count: hit.length,
                  on: formatDate(hit[0]!.on, "weekday", locale),
                })}
              >
                <Link href={itemPath(line.itemCode)}>{line.itemCode}</Link>{" "}
                {t("{{name}}, due {{due}} instead of {{promised}}.", {
                  name: line.name,
                  due: formatDate(answer.dueOn, "weekday", locale),
                  promised: formatDate(line.dueOn, "weekday", locale),
                })}
              </Notice>
              <ScrollRegion label={t("Visits hit by the slip")}>
                <table className="ui-facts">
                  <thead>
                    <tr>
                      <th scope="col">{t("Visit")}</th>
                      <th scope="col">{t("Site")}</th>
                      <th scope="col">{t("Kit picked")}</th>
                      <th scope="col">{t("At")}</th>
                      <th scope="col" data-align="end">
                        {t("Missing")}
                      </th>
                      <th scope="col" data-align="end">
                        {t("Missing now")}
                      </th>
                    </tr>
                  </thead>
                  <tbody>
                    {hit.map((h) => (
                      <tr key={`${h.visitId} ${h.on}`}>
                        <th scope="row">
                          <Link href={kitPath(h.visitId)}>{visitName(h.visitId, t)}</Link>
                        </th>
                        <td>{h.siteCode}</td>
                        <td>{formatDate(h.on, "weekday", locale)}</td>
                        <td className="whitespace-nowrap">{placeWords(h.placeId, words)}</td>
                        <td data-align="end">{amount(h.missing, line.unit)}</td>
                        <td data-align="end">{amount(h.missingBefore, line.unit)}</td>
                      </tr>
                    ))}
                  </tbody>
                </table>
              </ScrollRegion>
            </>
          )}
          {(answer?.transfers ?? []).length > 0 && line ? (
            <p>
              {t("Then worth sending:")}{" "}
              {answer!.transfers
                .map((move) =>
                  t("{{quantity}} from {{from}} to {{to}} by {{send}}", {
                    quantity: amount(move.quantity, line.unit),
                    from: move.fromPlace,
                    to: move.toPlace,
                    send: formatDate(move.sendOn, "day", locale),
                  }),
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
