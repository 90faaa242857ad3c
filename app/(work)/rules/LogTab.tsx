import Link from "next/link";
import { homeZone } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { Button, DownloadButton, LinkButton } from "@/app/_ui/Button";
import { Disclosure } from "@/app/_ui/Disclosure";
import { EmptyState } from "@/app/_ui/EmptyState";
import { TextInput } from "@/app/_ui/Field";
import { formatInstant, formatNumber } from "@/app/_ui/format";
import { keptText } from "@/app/_ui/language/keptText";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import type { Db } from "@/db/open";
import { accounts as loadAccounts } from "@/db/queries/accounts";
import { LOG_ACTIONS } from "@/db/queries/log";
import { searchLog } from "@/db/queries/rules";
import { actionsSaid } from "./logAction";
import { type LogDetail, logDetail } from "./logDetail";
import { logSubject } from "./logSubject";

const PAGE_ROWS = 50;

/** Who did what when. Rows are added, never edited. */
export async function LogTab({
  db,
  words,
  page: wanted,
}: {
  db: Db;
  words: string;
  page: string | undefined;
}) {
  const said = await serverWords();
  const { t, locale } = said;
  const zone = homeZone(db);
  const wantedRows = (page: number) =>
    searchLog(db, {
      words,
      actionsSaid: actionsSaid(said),
      limit: PAGE_ROWS,
      offset: (page - 1) * PAGE_ROWS,
    });
  const asked = Math.max(1, Math.floor(Number(wanted)) || 1);
  let { rows, count } = wantedRows(asked);
  const pages = Math.max(1, Math.ceil(count / PAGE_ROWS));
  const page = Math.min(pages, asked);
  if (page !== asked) ({ rows, count } = wantedRows(page));
  const accounts = new Map(loadAccounts(db).map((p) => [p.id, `${p.name} (${p.email})`]));
  const at = (n: number) =>
    `/rules?${new URLSearchParams({ tab: "log", ...(words ? { q: words } : {}), page: String(n) })}`;
  return (
    <div className="grid gap-4">
      <form action="/rules" className="ui-toolbar ui-no-print items-end">
        <input type="hidden" name="tab" value="log" />
        <TextInput label={t("Search: who, what, code or reason")} name="q" defaultValue={words} />
        <Button type="submit">{t("Search")}</Button>
        {words ? <LinkButton href="/rules?tab=log">{t("All rows (of the log)")}</LinkButton> : null}
        {(["csv", "xlsx"] as const).map((format) => (
          <DownloadButton
            key={format}
            href={`/rules/log?${new URLSearchParams({ ...(words ? { q: words } : {}), format })}`}
          >
            {format === "csv" ? t("Export CSV") : t("Export workbook")}
          </DownloadButton>
        ))}
      </form>
      {rows.length === 0 ? (
        <EmptyState title={words ? t("No row fits (the search)") : t("Nothing logged yet")}>
          {words
            ? t("Take a word away from the search.")
            : t("Changes appear here with who made them, when and why.")}
        </EmptyState>
      ) : (
        <Panel
          title={t("{{count}} rows", { count })}
          note={t("Newest first. Times in {{zone}}.", { zone })}
          flush
          foot={
            <nav aria-label={t("Pages of the log")} className="flex flex-wrap gap-3">
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
          <ScrollRegion label={t("Log")} className="max-md:px-4">
            <table className="ui-facts ui-facts-stack">
              <thead>
                <tr>
                  <th scope="col">{t("When")}</th>
                  <th scope="col">{t("Who")}</th>
                  <th scope="col">{t("What")}</th>
                  <th scope="col">{t("On (a thing)")}</th>
                  <th scope="col">{t("Detail")}</th>
                </tr>
              </thead>
              <tbody>
                {rows.map((r) => (
                  <tr key={r.id}>
                    <th scope="row" data-label={t("When")}>
                      <Moment text={formatInstant(r.at, zone, locale)} />
                    </th>
                    <td data-label={t("Who")}>{r.userName}</td>
                    <td data-label={t("What")}>{keptText(r.action, LOG_ACTIONS, said)}</td>
                    <td data-label={t("On (a thing)")}>{logSubject(r.subject, accounts, said)}</td>
                    <td data-label={t("Detail")} className="text-quiet [overflow-wrap:anywhere]">
                      <Detail {...logDetail(r.detail, (at) => formatInstant(at, zone, locale), said)} />
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </ScrollRegion>
        </Panel>
      )}
    </div>
  );
}

/** A time whose zone, such as "GMT-1", does not break at its sign. */
function Moment({ text }: { text: string }) {
  const at = text.lastIndexOf(" ") + 1;
  return (
    <>
      {text.slice(0, at)}
      <span className="whitespace-nowrap">{text.slice(at)}</span>
    </>
  );
}

async function Detail({ shown, rest }: LogDetail) {
  const { t } = await serverWords();
  if (rest === undefined) return shown;
  return (
    <>
      {shown} …<Disclosure summary={t("The rest of it")}>{rest}</Disclosure>
    </>
  );
}
