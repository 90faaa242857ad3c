import Link from "next/link";
import { serverWords } from "@/app/_server/language";
import { Button, LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import { Check, TextInput } from "@/app/_ui/Field";
import { database } from "@/db/open";
import { loadOnHandPage, loadOnHandRows, ROWS_COUNTED } from "@/db/queries/onHand";
import type { CalendarDate } from "@/lib/time";
import { OnHand } from "./OnHand";

const PAGE_ROWS = 200;

export interface OnHandTabProps {
  params: Readonly<Record<string, string | undefined>>;
  /** Rows in stock, as `countOnHand` counts them: a table in the browser does not get more, it would be megabytes. */
  rowCount: number;
  today: CalendarDate;
}

/** All that lies on the shelves in one table, or, of a large store, what is asked for and a page at a time. */
export async function OnHandTab({ params, rowCount, today }: OnHandTabProps) {
  const db = database();
  if (rowCount <= ROWS_COUNTED) return <OnHand rowsJson={JSON.stringify(loadOnHandRows(db, today))} />;
  const { t } = await serverWords();
  const asked = { text: params.find ?? "", placeCode: params.at ?? "", onlyExpired: params.expired === "1" };
  const { rows, next } = loadOnHandPage(db, today, asked, PAGE_ROWS, params.after);
  const isFiltered = asked.text !== "" || asked.placeCode !== "" || asked.onlyExpired;
  const at = (after?: string) => {
    const query = new URLSearchParams({ tab: "on-hand" });
    for (const name of ["find", "at", "expired"] as const) if (params[name]) query.set(name, params[name]);
    if (after) query.set("after", after);
    return `/stock?${query}`;
  };
  return (
    <div className="grid grid-cols-1 gap-4">
      <form action="/stock" className="ui-form-row ui-no-print items-end">
        <input type="hidden" name="tab" value="on-hand" />
        <TextInput label={t("Part of the item's code or name")} name="find" defaultValue={asked.text} />
        <TextInput label={t("Code of the place")} name="at" defaultValue={asked.placeCode} />
        <Check
          label={t("Only what has expired")}
          name="expired"
          value="1"
          defaultChecked={asked.onlyExpired}
        />
        <div className="ui-form-actions">
          <Button type="submit">{t("Show")}</Button>
          {isFiltered ? <LinkButton href="/stock?tab=on-hand">{t("All rows")}</LinkButton> : null}
        </div>
      </form>
      {rows.length === 0 ? (
        <EmptyState title={t("No row fits")}>{t("Clear a field to see more.")}</EmptyState>
      ) : (
        <>
          <OnHand key={at(params.after)} rowsJson={JSON.stringify(rows)} />
          <nav aria-label={t("Pages of the stock")} className="ui-no-print flex flex-wrap gap-3">
            <span>
              {t("{{shown}} rows shown, in the order of the item's code; in stock are more than {{many}}.", {
                shown: rows.length,
                many: ROWS_COUNTED,
              })}
            </span>
            {params.after ? <Link href={at()}>{t("From the beginning")}</Link> : null}
            {next ? <Link href={at(next)}>{t("Further rows")}</Link> : null}
          </nav>
        </>
      )}
    </div>
  );
}
