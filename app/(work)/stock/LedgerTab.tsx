import Link from "next/link";
import { homeZone, onProgrammeClock } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { type LastReconciled, lastReconciled } from "@/app/_server/reconcile";
import { Button, LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import { TextInput } from "@/app/_ui/Field";
import { formatInstant } from "@/app/_ui/format";
import { visitTyped } from "@/app/_ui/language/visitTyped";
import type { Words } from "@/app/_ui/language/words";
import { Notice } from "@/app/_ui/Notice";
import { Panel } from "@/app/_ui/Panel";
import { database } from "@/db/open";
import { loadHung } from "@/db/queries/hung";
import { askedOfLedger, countLedger, loadLedger, reversalsOf } from "@/db/queries/ledger";
import { HungList } from "./HungList";
import { LedgerRows } from "./LedgerRows";
import { ReconcileLine } from "./ReconcileLine";

const PAGE_ROWS = 40;

export interface LedgerTabProps {
  params: Readonly<Record<string, string | undefined>>;
  mayPost: boolean;
}

/** Every movement, newest first, a page at a time. Nothing here can be edited: a row is taken back by another. */
export async function LedgerTab({ params, mayPost }: LedgerTabProps) {
  const { t, locale } = await serverWords();
  const db = database();
  const filter = askedOfLedger(db, { ...params, visit: visitTyped(params.visit ?? "", t) });
  const total = countLedger(db, filter);
  const before = Math.floor(Number(params.before)) || undefined;
  // One row more than is shown says whether anything follows.
  const found = loadLedger(db, { ...filter, limit: PAGE_ROWS + 1, before });
  const rows = found.slice(0, PAGE_ROWS);
  const reversed = reversalsOf(
    db,
    rows.map((r) => r.id),
  );
  const zone = homeZone(db);
  const checked = lastReconciled(db);
  const at = (older?: number) => {
    const q = new URLSearchParams({ tab: "ledger" });
    for (const k of ["item", "place", "drum", "visit", "serial"] as const) if (params[k]) q.set(k, params[k]);
    if (older) q.set("before", String(older));
    return `/stock?${q}`;
  };
  const isFiltered = Object.values(filter).some((value) => value !== undefined);
  return (
    <div className="grid grid-cols-1 gap-4">
      <form action="/stock" className="ui-form-row ui-no-print items-end">
        <input type="hidden" name="tab" value="ledger" />
        <TextInput label={t("Item code")} name="item" defaultValue={params.item} />
        <TextInput
          label={t("Code of the place")}
          name="place"
          defaultValue={params.place}
          hint={t("Rows from it or to it")}
        />
        <TextInput label={t("Drum")} name="drum" defaultValue={params.drum} />
        <TextInput
          label={t("Visit")}
          name="visit"
          defaultValue={params.visit}
          hint={t("Such as H-012, or H-012 near")}
        />
        <TextInput label={t("Serial")} name="serial" defaultValue={params.serial} />
        <div className="ui-form-actions">
          <Button type="submit">{t("Show")}</Button>
          {isFiltered ? <LinkButton href="/stock?tab=ledger">{t("All rows")}</LinkButton> : null}
        </div>
      </form>
      <ReconcileLine
        words={reconciledWords(
          checked.done && { ...checked.done, at: onProgrammeClock(checked.done.at, db) },
          zone,
          { t, locale },
        )}
        activeJobId={checked.activeJobId}
      />
      {checked.done && checked.done.result.first.length > 0 ? (
        <Notice kind="problem" title={t("Balances that differ from the sum of their movements")}>
          <ul>
            {checked.done.result.first.map((d) => (
              <li key={JSON.stringify([d.itemCode, d.placeCode, d.lotCode, d.drumSerial, d.owner])}>
                {t("{{item}} at {{place}}: balance {{balance}}, ledger {{ledger}}", {
                  item: [d.itemCode, d.lotCode, d.drumSerial].filter(Boolean).join(" "),
                  place: d.placeCode,
                  balance: d.balanceC / 100,
                  ledger: d.ledgerC / 100,
                })}
              </li>
            ))}
          </ul>
        </Notice>
      ) : null}
      {filter.serial ? (
        <HungList units={loadHung(db, { serial: filter.serial })} serial={filter.serial} />
      ) : null}
      {rows.length === 0 ? (
        <EmptyState title={isFiltered ? t("No row fits") : t("The ledger is empty")}>
          {isFiltered
            ? t("Codes must be written in full. Clear a field to see more.")
            : t("Receipts, issues and cuts appear here as they are posted.")}
        </EmptyState>
      ) : (
        <Panel
          title={t("{{count}} rows", { count: total })}
          flush
          foot={
            <nav aria-label={t("Pages of the ledger")} className="flex flex-wrap gap-3">
              {before ? <Link href={at()}>{t("Newest rows")}</Link> : null}
              {found.length > PAGE_ROWS ? <Link href={at(rows.at(-1)!.id)}>{t("Older")}</Link> : null}
            </nav>
          }
        >
          <LedgerRows rows={rows} reversed={reversed} zone={zone} mayPost={mayPost} />
        </Panel>
      )}
    </div>
  );
}

function reconciledWords(
  done: LastReconciled["done"],
  zone: string,
  { t, locale }: Pick<Words, "t" | "locale">,
): string {
  if (!done) return t("Balances have not been held against the ledger yet.");
  const { rows, differences } = done.result;
  const when = formatInstant(done.at, zone, locale);
  return differences === 0
    ? t("Balances agree with the sum of {{rows}} rows, checked {{when}}.", { rows, when })
    : t("Balances DIFFER from the sum of {{rows}} rows, checked {{when}}: tell the administrator.", {
        rows,
        when,
      });
}
