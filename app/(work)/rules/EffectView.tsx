"use client";

import Link from "next/link";
import type { ShownEffect } from "@/app/_server/ruleJobs";
import { formatMoney } from "@/app/_ui/format";
import { checkText } from "@/app/_ui/language/checkText";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import type { Words } from "@/app/_ui/language/words";
import { Notice } from "@/app/_ui/Notice";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";

const MOST = 60;

/** Money by currency and owner: what the contractor pays and what the customer brings are two sums. */
function sums(effect: ShownEffect, words: Words): string[] {
  const { t, locale } = words;
  const by = new Map<string, number>();
  for (const l of effect.lines) {
    if (l.differenceMinor === undefined || !l.currency) continue;
    const key = `${l.owner}|${l.currency}`;
    by.set(key, (by.get(key) ?? 0) + l.differenceMinor);
  }
  return [...by].map(([key, minor]) => {
    const [owner, currency] = key.split("|") as [string, string];
    return `${signed(minor, formatMoney(Math.abs(minor), currency, locale))} ${owner === "contractor" ? t("of our own") : t("of the customer's")}`;
  });
}

const signed = (n: number, words: string) => (n > 0 ? `+${words}` : n < 0 ? `\u2212${words}` : words);

/** What a change of take-off rules does to the whole programme. */
export function EffectView({ effect }: { effect: ShownEffect }) {
  const words = useWords();
  const { t, amount, locale } = words;
  const { lines, newFails, solvedFails, hopCount, ends } = effect;
  const money = sums(effect, words);
  const quiet = lines.length === 0 && newFails.length === 0 && solvedFails.length === 0;
  return (
    <section aria-label={t("Effect on the whole programme")} className="grid gap-3">
      <Notice
        kind={newFails.length > 0 ? "warn" : "info"}
        announce
        title={
          quiet
            ? t("No quantity changes over {{hops}}", {
                hops: t("{{count}} hops", { count: hopCount }),
              })
            : t("{{items}} over {{hops}}", {
                items: t("{{count}} items change", { count: lines.length }),
                hops: t("{{count}} hops", { count: hopCount }),
              })
        }
      >
        {money.length > 0 ? `${t("Money: {{sums}}.", { sums: money.join("; ") })} ` : null}
        {newFails.length > 0
          ? `${t("{{count}} checks fail that did not before.", { count: newFails.length })} `
          : `${t("No check fails that did not before.")} `}
        {solvedFails.length > 0
          ? t("{{count}} failing checks are solved.", { count: solvedFails.length })
          : null}
      </Notice>
      {lines.length > 0 ? (
        <ScrollRegion label={t("Items that change")}>
          <table className="ui-facts">
            <thead>
              <tr>
                <th scope="col">{t("Item")}</th>
                <th scope="col" data-align="end">
                  {t("Now")}
                </th>
                <th scope="col" data-align="end">
                  {t("Then")}
                </th>
                <th scope="col" data-align="end">
                  {t("Difference")}
                </th>
                <th scope="col" data-align="end">
                  {t("Money")}
                </th>
              </tr>
            </thead>
            <tbody>
              {lines.slice(0, MOST).map((l) => (
                <tr key={`${l.itemCode} ${l.owner}`}>
                  <th scope="row">
                    {l.itemCode}
                    <span className="text-quiet block font-normal">
                      {l.name}
                      {l.owner === "customer" ? `, ${t("the customer's")}` : ""}
                    </span>
                  </th>
                  <td data-align="end">{amount(l.before, l.unit)}</td>
                  <td data-align="end">{amount(l.after, l.unit)}</td>
                  <td data-align="end">{signed(l.difference, amount(Math.abs(l.difference), l.unit))}</td>
                  <td data-align="end">
                    {l.differenceMinor === undefined || !l.currency
                      ? t("not in the catalogue")
                      : signed(
                          l.differenceMinor,
                          formatMoney(Math.abs(l.differenceMinor), l.currency, locale),
                        )}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </ScrollRegion>
      ) : null}
      {lines.length > MOST ? (
        <p className="text-quiet">
          {t("and {{items}} more", { items: t("{{count}} items", { count: lines.length - MOST }) })}
        </p>
      ) : null}
      <Fails title={t("Checks that would fail")} fails={newFails} ends={ends} />
      <Fails title={t("Failing checks that would be solved")} fails={solvedFails} ends={ends} />
    </section>
  );
}

function Fails({
  title,
  fails,
  ends,
}: {
  title: string;
  fails: ShownEffect["newFails"];
  ends: ShownEffect["ends"];
}) {
  const words = useWords();
  const { t } = words;
  if (fails.length === 0) return null;
  return (
    <div>
      <h3>{title}</h3>
      <ul className="list-disc pl-5">
        {fails.slice(0, 12).map((f, i) => {
          const end = ends[f.endId];
          return (
            // biome-ignore lint/suspicious/noArrayIndexKey: two checks of an end may read alike
            <li key={i}>
              {end ? (
                <Link href={`/hops/${encodeURIComponent(end.hopCode)}`} target="_blank">
                  {end.hopCode}
                  <span className="sr-only"> {t("(opens in a new tab)")}</span>
                </Link>
              ) : null}{" "}
              {checkText(f.message, words)}
            </li>
          );
        })}
      </ul>
      {fails.length > 12 ? (
        <p className="text-quiet">{t("and {{more}} more", { more: fails.length - 12 })}</p>
      ) : null}
    </div>
  );
}
