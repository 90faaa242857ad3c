import Link from "next/link";
import { homeZone } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { Button, LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import { TextInput } from "@/app/_ui/Field";
import { formatNumber } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { database } from "@/db/open";
import { countLedger, ledgerDifferences, loadLedger, reversalsOf } from "@/db/queries/stock";
import { LedgerRows } from "./LedgerRows";

const PAGE_ROWS = 40;

export interface LedgerTabProps {
  params: Readonly<Record<string, string | undefined>>;
  mayPost: boolean;
}

/** Every movement, newest first, a page at a time. Nothing here can be edited: a row is taken back by another. */
export async function LedgerTab({ params, mayPost }: LedgerTabProps) {
  const { t, locale } = await serverWords();
  const db = database();
  const filter = {
    itemCode: params.item || undefined,
    drumSerial: params.drum || undefined,
    visitId: params.visit || undefined,
  };
  const total = countLedger(db, filter);
  const pages = Math.max(1, Math.ceil(total / PAGE_ROWS));
  const page = Math.min(pages, Math.max(1, Math.floor(Number(params.page)) || 1));
  const rows = loadLedger(db, { ...filter, limit: PAGE_ROWS, offset: (page - 1) * PAGE_ROWS });
  const reversed = reversalsOf(
    db,
    rows.map((r) => r.id),
  );
  const isWhole = ledgerDifferences(db).length === 0;
  const at = (n: number) => {
    const q = new URLSearchParams({ tab: "ledger" });
    for (const k of ["item", "drum", "visit"] as const) if (params[k]) q.set(k, params[k]);
    q.set("page", String(n));
    return `/stock?${q}`;
  };
  const isFiltered = Boolean(filter.itemCode ?? filter.drumSerial ?? filter.visitId);
  return (
    <div className="grid grid-cols-1 gap-4">
      <form action="/stock" className="ui-form-row ui-no-print items-end">
        <input type="hidden" name="tab" value="ledger" />
        <TextInput label={t("Item code")} name="item" defaultValue={params.item} />
        <TextInput label={t("Drum")} name="drum" defaultValue={params.drum} />
        <TextInput
          label={t("Visit")}
          name="visit"
          defaultValue={params.visit}
          hint={t("Such as H-012/near/install")}
        />
        <div className="ui-form-actions">
          <Button type="submit">{t("Show")}</Button>
          {isFiltered ? <LinkButton href="/stock?tab=ledger">{t("All rows")}</LinkButton> : null}
        </div>
      </form>
      {rows.length === 0 ? (
        <EmptyState title={isFiltered ? t("No row fits") : t("The ledger is empty")}>
          {isFiltered
            ? t("Codes must be written in full. Clear a field to see more.")
            : t("Receipts, issues and cuts appear here as they are posted.")}
        </EmptyState>
      ) : (
        <Panel
          title={t("{{count}} rows", { count: total })}
          note={
            isWhole
              ? t("Balances agree with the sum of the ledger.")
              : t("Balances DIFFER from the sum of the ledger: tell the administrator.")
          }
          flush
          foot={
            <nav aria-label={t("Pages of the ledger")} className="flex flex-wrap gap-3">
              {page > 1 ? <Link href={at(page - 1)}>{t("Newer")}</Link> : null}
              <span>
                {t("Page {{page}} of {{pages}}", {
                  page: formatNumber(page, 0, locale),
                  pages: formatNumber(pages, 0, locale),
                })}
              </span>
              {page < pages ? <Link href={at(page + 1)}>{t("Older")}</Link> : null}
            </nav>
          }
        >
          <LedgerRows rows={rows} reversed={reversed} zone={homeZone(db)} mayPost={mayPost} />
        </Panel>
      )}
    </div>
  );
}
