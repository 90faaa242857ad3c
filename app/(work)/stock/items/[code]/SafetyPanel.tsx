import Link from "next/link";
import { Fragment } from "react";
import { formatAmount, formatCount, formatNumber, formatShare } from "@/app/_ui/format";
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
export function SafetyPanel({ code, unit, ordering, measured: m, mayEdit }: SafetyPanelProps) {
  const kept = ordering.safetyStock;
  if (!m || m.weeks === 0) {
    return (
      <Panel title="Safety stock and reorder point" id="safety">
        <p>
          {formatAmount(kept, unit)} from the catalogue. The ledger holds no whole week of use yet, so nothing
          can be measured.
        </p>
      </Panel>
    );
  }
  const n = (value: number) => formatNumber(value, 2);
  const whole = unit === "m" ? Math.round(m.safetyStock * 100) / 100 : Math.ceil(m.safetyStock - 1e-9);
  const facts: readonly [string, string][] = [
    [
      "Use a week, d and s_d",
      `${n(m.useMean)} and ${n(m.useSd)} ${unit}, ${formatCount(m.weeks, "whole week")} of the ledger`,
    ],
    [
      "Lead time, L and s_L",
      m.leadFrom === "deliveries"
        ? `${n(m.leadMean)} and ${n(m.leadSd)} weeks, ${formatCount(m.deliveries, "delivery", "deliveries")} of ${m.supplier}`
        : `${n(m.leadMean)} weeks from the catalogue, taken as certain: ${formatCount(m.deliveries, "delivery", "deliveries")} on record`,
    ],
    ["No shortage in a lead time", `${formatShare(m.serviceLevel, 1)}, z = ${formatNumber(m.z, 3)}`],
    [
      "Safety stock",
      `z √(L s_d² + d² s_L²) = ${formatNumber(m.z, 3)} × √(${n(m.leadMean)} × ${n(m.useSd)}² + ${n(m.useMean)}² × ${n(m.leadSd)}²) = ${formatAmount(m.wanted, unit)}`,
    ],
    ...(m.usedInShelfLife === undefined
      ? []
      : ([
          [
            "Shelf life",
            `${formatAmount(m.usedInShelfLife, unit)} are used within it${m.safetyStock < m.wanted ? ": no more is kept" : ""}`,
          ],
        ] as [string, string][])),
    [
      "Reorder point",
      `d L + safety stock = ${n(m.useMean)} × ${n(m.leadMean)} + ${n(m.safetyStock)} = ${formatAmount(m.reorderPoint, unit)}`,
    ],
  ];
  return (
    <Panel
      title="Safety stock and reorder point"
      id="safety"
      note={`Kept now: ${formatAmount(kept, unit)} from the catalogue. By what was used and delivered: ${formatAmount(whole, unit)}.`}
      actions={
        mayEdit && whole !== kept ? (
          <TakeMeasuredButton
            code={code}
            safetyStock={whole}
            words={formatAmount(whole, unit)}
            ordering={{ ...ordering, priceBreaks: [...ordering.priceBreaks] }}
          />
        ) : undefined
      }
      foot={
        <>
          Normal, independent use is assumed; the level and the weeks stand under{" "}
          <Link href="/rules?tab=stock">Rules, Stock</Link>.
        </>
      }
    >
      {m.isThin ? (
        <Notice kind="warn" title={`Only ${formatCount(m.weeks, "week")} on record`}>
          With so few weeks the figure says little; keep the catalogue's for now.
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
