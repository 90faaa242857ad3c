import Link from "next/link";
import { serverWords } from "@/app/_server/language";
import { LinkButton } from "@/app/_ui/Button";
import { Disclosure } from "@/app/_ui/Disclosure";
import { formatDate, formatNumber } from "@/app/_ui/format";
import { visitName } from "@/app/_ui/language/visitName";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { OrderLineDue } from "@/db/queries/itemWhatIf";
import { isSaved, type RunsOutRow } from "@/db/queries/runsOut";
import { SlipQuestion } from "./SlipQuestion";
import { sentWords } from "./sentWords";
import { itemPath, kitPath, orderPath, placeWords } from "./words";

/** Lines that a transfer saves are no emergency: the rest stands folded. */
const SAVED_OPEN = 6;
/** Lines shown until all are asked for: the first to stop stand first, and thousands would make everybody wait. */
const ROWS_OPEN = 60;

export interface RunsOutProps {
  rows: readonly RunsOutRow[];
  /** Names of the places, by code. */
  placeNames: ReadonlyMap<string, string>;
  /** Every line, however many. */
  isWhole: boolean;
  lines: readonly OrderLineDue[];
  slip?: string;
  days?: string;
}

/** What runs out, when, and which sites stop because of it; apart from it what a transfer saves. */
export async function RunsOut({ rows, placeNames, isWhole, lines, slip, days }: RunsOutProps) {
  const { t } = await serverWords();
  const saved = rows.filter(isSaved);
  const open = rows.filter((r) => !isSaved(r));
  const most = isWhole ? Number.POSITIVE_INFINITY : ROWS_OPEN;
  return (
    <div className="grid grid-cols-1 gap-4">
      <Panel
        title={t("What runs out, and what stops for it")}
        note={t(
          "Shelf by shelf, with orders and planned transfers on the way, without new ones: proposed transfers are not counted in. What stops work first stands first.",
        )}
        foot={t(
          "Kits are picked one working day before the visit, each at its own warehouse; a visit stops when a line of its kit is not there on that day. Cable is netted for all warehouses together: the cutting list says which drum each run comes from.",
        )}
        flush
      >
        {open.length === 0 ? (
          <p className="px-4 py-3">
            {t("Stock, transfers and orders on the way cover every planned kit and the safety stock.")}
          </p>
        ) : (
          <>
            <RunsOutTable
              placeNames={placeNames}
              label={t("Items that run out")}
              rows={open.slice(0, most)}
            />
            <ShowAll shown={most} all={open.length} />
          </>
        )}
      </Panel>
      {saved.length > 0 ? (
        <Panel
          title={t("Short on one shelf, saved by a transfer: {{count}} lines", { count: saved.length })}
          note={t("Another warehouse has it to spare. Nothing moves by itself: plan the transfers.")}
          actions={<LinkButton href="/stock?tab=transfers">{t("Plan transfers")}</LinkButton>}
          flush
        >
          <RunsOutTable
            placeNames={placeNames}
            label={t("Items saved by a transfer")}
            rows={saved.slice(0, SAVED_OPEN)}
          />
          {saved.length > SAVED_OPEN ? (
            <Disclosure summary={`${t("{{count}} further lines", { count: saved.length - SAVED_OPEN })}`}>
              <RunsOutTable
                label={t("Further items saved by a transfer")}
                placeNames={placeNames}
                rows={saved.slice(SAVED_OPEN, most)}
              />
              <ShowAll shown={most} all={saved.length} />
            </Disclosure>
          ) : null}
        </Panel>
      ) : null}
      <SlipQuestion lines={lines} initialKey={slip} initialDays={days} />
    </div>
  );
}

async function ShowAll({ shown, all }: { shown: number; all: number }) {
  const { t, locale } = await serverWords();
  return all > shown ? (
    <p className="px-4 py-3">
      {t("{{all}} further lines stop later.", { all: formatNumber(all - shown, 0, locale) })}{" "}
      <Link href="/stock?tab=runs-out&shown=all">
        {t("Show all {{all}}", { all: formatNumber(all, 0, locale) })}
      </Link>
    </p>
  ) : null;
}

async function RunsOutTable({
  label,
  rows,
  placeNames,
}: { label: string } & Pick<RunsOutProps, "rows" | "placeNames">) {
  const words = await serverWords();
  const { t, locale, amount } = words;
  return (
    <ScrollRegion label={label}>
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">{t("Item")}</th>
            <th scope="col">{t("At")}</th>
            <th scope="col">{t("Runs out")}</th>
            <th scope="col">{t("Stops before proposed transfers")}</th>
            <th scope="col">{t("Sites, first visit first")}</th>
            <th scope="col" data-align="end">
              {t("On hand")}
            </th>
            <th scope="col" data-align="end">
              {t("Need to the end")}
            </th>
            <th scope="col">{t("What helps")}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((r) => (
            <tr key={`${r.itemCode} ${r.placeCode}`}>
              <th scope="row" data-label={t("Item")}>
                <Link href={itemPath(r.itemCode)}>{r.itemCode}</Link> <small>{r.name}</small>
              </th>
              <td data-label={t("At")} className="whitespace-nowrap">
                {placeWords(r.placeCode, words)}{" "}
                <small className="sm:block">{placeNames.get(r.placeCode)}</small>
              </td>
              <td data-label={t("Runs out")}>{formatDate(r.runsOutOn, "weekday", locale)}</td>
              <td data-label={t("Stops")}>
                {r.stopsLeft > 0 ? (
                  <StateMark state="short">{t("{{count}} visits", { count: r.stopCount })}</StateMark>
                ) : r.stopCount > 0 ? (
                  <StateMark state="warn">{t("{{count}} visits", { count: r.stopCount })}</StateMark>
                ) : (
                  <StateMark state="warn">{t("no visit yet")}</StateMark>
                )}
              </td>
              <td data-label={t("Sites")}>
                {r.firstStops.map((s, i) => (
                  <span key={s.visitId}>
                    {i > 0 ? ", " : ""}
                    <Link href={kitPath(s.visitId)}>
                      {s.siteCode}{" "}
                      <span className="sr-only">
                        {t("for {{visit}} on", { visit: visitName(s.visitId, t) })}{" "}
                      </span>
                      {formatDate(s.on, "day", locale)}
                    </Link>
                  </span>
                ))}
                {r.stopCount > r.firstStops.length ? (
                  <>
                    {" "}
                    <Link href={`${itemPath(r.itemCode)}#stops`}>
                      {t("and {{count}} more visits", {
                        count: r.stopCount - r.firstStops.length,
                      })}
                    </Link>
                  </>
                ) : null}
              </td>
              <td data-label={t("On hand")} data-align="end">
                {amount(r.onHand, r.unit)}
              </td>
              <td data-label={t("Need")} data-align="end">
                {amount(r.need, r.unit)}
              </td>
              <td data-label={t("What helps")}>
                <Help row={r} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

/** Transfers first, then what is on the way, then what is left to buy. */
async function Help({ row: r }: { row: RunsOutRow }) {
  const words = await serverWords();
  const { t, locale, amount } = words;
  const [first] = r.transfers;
  return (
    <>
      {first ? (
        <span className="block">
          <Link href="/stock?tab=transfers">{t("Transfer")}</Link> {sentWords(r, words)}
        </span>
      ) : null}
      {r.nextReceipt ? (
        <span className="block">
          <Link href={orderPath(r.nextReceipt.orderCode)}>{r.nextReceipt.orderCode}</Link>
          {t(", {{quantity}} on {{due}}", {
            quantity: amount(r.nextReceipt.quantity, r.unit),
            due: formatDate(r.nextReceipt.dueOn, "day", locale),
          })}
        </span>
      ) : null}
      {!first && !r.nextReceipt ? t("none ordered") : null}
      {first
        ? null
        : r.elsewhere.map((h) => (
            <span key={h.placeCode} className="text-quiet block">
              {t("{{place}} holds {{amount}}, for its own work by the plan", {
                place: h.placeCode,
                amount: amount(h.onHand, r.unit),
              })}
            </span>
          ))}
    </>
  );
}
