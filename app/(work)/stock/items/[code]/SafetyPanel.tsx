import Link from "next/link";
import { Fragment } from "react";
import { serverWords } from "@/app/_server/language";
import { formatNumber, formatShare } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { Panel } from "@/app/_ui/Panel";
import type { StoredOrdering } from "@/db/queries/catalogue";
import type { MeasuredItem } from "@/db/queries/suppliers";
import { TakeMeasuredButton } from "./TakeMeasuredButton";

export interface SafetyPanelProps {
  code: string;
  unit: string;
  ordering: StoredOrdering;
  /** Absent when the item never moved. */
  measured?: MeasuredItem;
  mayEdit: boolean;
}

/** Safety stock and reorder point from the ledger's use and the supplier's deliveries, figure by figure. */
export async function SafetyPanel({ code, unit, ordering, measured: m, mayEdit }: SafetyPanelProps) {
  const { t, locale, amount } = await serverWords();
  const kept = ordering.safetyStock;
  if (!m || m.weeks === 0) {
    return (
      <Panel title={t("Safety stock and reorder point")} id="safety">
        <p>
          {t(
            "{{kept}} from the catalogue. The ledger holds no whole week of use yet, so nothing can be measured.",
            { kept: amount(kept, unit) },
          )}
        </p>
      </Panel>
    );
  }
  const n = (value: number) => formatNumber(value, 2, locale);
  const use = n(m.useMean);
  const useSd = n(m.useSd);
  const lead = n(m.leadMean);
  const leadSd = n(m.leadSd);
  const whole = unit === "m" ? Math.round(m.safetyStock * 100) / 100 : Math.ceil(m.safetyStock - 1e-9) + 0; // no -0
  const facts: readonly [string, string][] = [
    [
      t("Use a week, d and s_d"),
      t("{{use}} and {{useSd}} {{unit}}, {{count}} whole weeks of the ledger", {
        use,
        useSd,
        unit: t(unit),
        count: m.weeks,
      }),
    ],
    [
      t("Lead time, L and s_L"),
      m.leadFrom === "deliveries"
        ? t("{{lead}} and {{leadSd}} weeks, {{count}} deliveries of {{supplier}}", {
            lead,
            leadSd,
            count: m.deliveries,
            supplier: m.supplier ?? "",
          })
        : t("{{lead}} weeks from the catalogue, taken as certain: {{count}} deliveries on record", {
            lead,
            count: m.deliveries,
          }),
    ],
    [
      t("No shortage in a lead time"),
      `${formatShare(m.serviceLevel, 1, locale)}, z = ${formatNumber(m.z, 3, locale)}`,
    ],
    [
      t("Safety stock"),
      `z √(L s_d² + d² s_L²) = ${formatNumber(m.z, 3, locale)} × √(${lead} × ${useSd}² + ${use}² × ${leadSd}²) = ${amount(m.wanted, unit)}`,
    ],
    ...(m.usedInShelfLife === undefined
      ? []
      : ([
          [
            t("Shelf life"),
            m.safetyStock < m.wanted
              ? t("{{usedInShelfLife}} are used within it: no more is kept", {
                  usedInShelfLife: amount(m.usedInShelfLife, unit),
                })
              : t("{{usedInShelfLife}} are used within it", {
                  usedInShelfLife: amount(m.usedInShelfLife, unit),
                }),
          ],
        ] as [string, string][])),
    // Of too few weeks none is reckoned; the figure in use stands with the balance.
    ...(m.isThin
      ? []
      : [
          [
            t("Reorder point"),
            t("d L + safety stock = {{use}} × {{lead}} + {{safety}} = {{quantity}}", {
              use,
              lead,
              safety: n(m.safetyStock),
              quantity: amount(m.reorderPoint, unit),
            }),
          ] as [string, string],
        ]),
  ];
  return (
    <Panel
      title={t("Safety stock and reorder point")}
      id="safety"
      note={t("Kept now: {{kept}} from the catalogue. By what was used and delivered: {{whole}}.", {
        kept: amount(kept, unit),
        whole: amount(whole, unit),
      })}
      actions={
        mayEdit && whole !== kept ? (
          <TakeMeasuredButton
            code={code}
            safetyStock={whole}
            words={amount(whole, unit)}
            ordering={{ ...ordering, priceBreaks: [...ordering.priceBreaks] }}
          />
        ) : undefined
      }
      foot={
        <>
          {t("Normal, independent use is assumed; the level and the weeks stand under")}{" "}
          <Link href="/rules?tab=stock">{t("Rules, Stock")}</Link>.
        </>
      }
    >
      {m.isThin ? (
        <Notice kind="warn" title={t("Only {{count}} weeks on record", { count: m.weeks })}>
          {t("With so few weeks the figure says little; keep the catalogue's for now.")}
        </Notice>
      ) : null}
      <dl className="grid grid-cols-1 gap-x-4 gap-y-1 sm:grid-cols-[14rem_minmax(0,1fr)]">
        {facts.map(([term, words]) => (
          <Fragment key={term}>
            <dt className="text-quiet">{term}</dt>
            <dd>{words}</dd>
          </Fragment>
        ))}
      </dl>
    </Panel>
  );
}
