import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { homeToday, homeZone, machineNow } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { requireRoleInRegions } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { StockProjectionChart } from "@/app/_ui/charts/StockProjectionChart";
import { formatDate, formatMoney, formatNumber } from "@/app/_ui/format";
import { visitName } from "@/app/_ui/language/visitName";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { Stat, StatRow } from "@/app/_ui/Stat";
import { StateMark } from "@/app/_ui/StateMark";
import { database } from "@/db/open";
import { loadCatalogue, loadOrdering } from "@/db/queries/catalogue";
import { loadFaults } from "@/db/queries/faultViews";
import { compareLots, loadNeeds } from "@/db/queries/itemWhatIf";
import { countLedger, loadLedger, reversalsOf } from "@/db/queries/ledger";
import { loadOnHandRows } from "@/db/queries/onHand";
import { ordersToPlace } from "@/db/queries/ordersToPlace";
import { loadOrders, onTheWayOf } from "@/db/queries/orderViews";
import { loadNetting, planInForce } from "@/db/queries/plans";
import { rulesInForce } from "@/db/queries/programme";
import { nettingStamp } from "@/db/queries/runsOut";
import { loadMeasured } from "@/db/queries/suppliers";
import { proposedTransfers, transfersToMove } from "@/db/queries/transfers";
import { addDays } from "@/lib/time";
import { FaultTable } from "../../faults/FaultTable";
import { LedgerRows } from "../../LedgerRows";
import { NettingLine } from "../../NettingLine";
import { OrderStateMark } from "../../OrderStateMark";
import { amountC, kitPath, ledgerPath, nettingWords, orderPath, placeWords, STOCK_ROLES } from "../../words";
import { OrderingPanel } from "./OrderingPanel";
import { SafetyPanel } from "./SafetyPanel";

interface ItemPageProps {
  params: Promise<{ code: string }>;
}

const ROWS_SHOWN = 20;

export async function generateMetadata({ params }: ItemPageProps): Promise<Metadata> {
  const { t } = await serverWords();
  return {
    title: t("Stock of {{item}}", {
      item: decodeURIComponent((await params).code),
    }),
  };
}

/** One item: its balance day by day, what stops for it, who needs it, what is ordered, where it lies. */
export default async function ItemPage({ params }: ItemPageProps) {
  const visitor = await requireRoleInRegions(...STOCK_ROLES);
  const words = await serverWords();
  const { t, locale, amount } = words;
  const code = decodeURIComponent((await params).code);
  const db = database();
  const today = homeToday(db);
  const item = loadCatalogue(db).find((i) => i.code === code);
  if (!item) notFound();
  const plan = planInForce(db);
  const mayPost = visitor.role === "logistics" || visitor.role === "administrator";
  const nettings = plan ? loadNetting(db, plan.id, code) : [];
  const needs = plan ? loadNeeds(db, plan.id, code) : [];
  const lots = loadOnHandRows(db, today, { itemCode: code });
  const orders = loadOrders(db).filter((o) => o.lines.some((l) => l.itemCode === code));
  const wanted = plan ? ordersToPlace(db, plan, today).filter((o) => o.itemCode === code) : [];
  const ledger = loadLedger(db, { itemCode: code, limit: ROWS_SHOWN });
  const total = countLedger(db, { itemCode: code });
  const stamp = plan && nettingStamp(db, plan.id);
  const available = lots.filter((l) => l.placeKind === "warehouse").reduce((sum, l) => sum + l.available, 0);
  const need = needs.reduce((sum, n) => sum + n.quantity, 0);
  const dayCount = nettings[0]?.body.gross.length ?? 0;
  const perDay = dayCount > 0 ? need / dayCount : 0;
  const measured = loadMeasured(db, code, item.leadTimeDays, today);
  const ordering = loadOrdering(db).get(code)!;
  // Measured where there are records, else what the plan needs on average.
  const reorderAt =
    measured && !measured.isThin ? measured.reorderPoint : perDay * item.leadTimeDays + item.safetyStock;
  const reorderPoint = Math.ceil(reorderAt);
  const { quantity: onTheWay, orderCount } = onTheWayOf(orders, code);
  const stops = nettings
    .flatMap((n) =>
      n.body.stops.map((s) => ({
        ...s,
        placeCode: n.placeCode,
        on: addDays(n.body.firstOn, s.day),
        isSaved: !n.body.stopsLeft.some((left) => left.visitId === s.visitId),
      })),
    )
    .sort((a, b) => a.day - b.day);
  // A transfer to an earlier visit can leave a later one of its own warehouse short.
  const givenAway = nettings
    .flatMap((n) =>
      n.body.stopsLeft
        .filter((left) => !n.body.stops.some((s) => s.visitId === left.visitId))
        .map((s) => ({ ...s, placeCode: n.placeCode, on: addDays(n.body.firstOn, s.day), isSaved: false })),
    )
    .sort((a, b) => a.day - b.day);
  const listed = [...stops, ...givenAway];
  const saved = stops.filter((s) => s.isSaved).length;
  const runsOutOn = nettings.flatMap((n) => n.runsOutOn ?? []).sort()[0];
  const spares = nettings.reduce((sum, n) => sum + (n.body.spares ?? 0), 0);
  const faults = loadFaults(db, { itemCode: code });
  const coming = plan ? [...transfersToMove(db, code), ...proposedTransfers(db, plan.id, code)] : [];
  return (
    <>
      <PageHead
        crumbs={[{ label: t("Stock"), href: "/stock" }]}
        title={item.code}
        lead={`${item.name}. ${item.owner === "customer" ? t("The customer's: called off, lead time {{count}} days, {{price}} a {{unit}}.", { count: item.leadTimeDays, price: formatMoney(item.priceMinor, item.currency, locale), unit: t(item.unit) }) : t("Our own: bought, lead time {{count}} days, {{price}} a {{unit}}.", { count: item.leadTimeDays, price: formatMoney(item.priceMinor, item.currency, locale), unit: t(item.unit) })}`}
        actions={
          <>
            <LinkButton href="/stock?tab=order">{t("Order today")}</LinkButton>
            {item.category === "ODU" ? <LinkButton href="/stock/spares">{t("Spares")}</LinkButton> : null}
            {item.category !== "IF cable" ? (
              <LinkButton href={`/stock/faults?item=${encodeURIComponent(code)}`}>
                {t("Faulty pieces")}
              </LinkButton>
            ) : null}
            {item.category === "IF cable" ? (
              <LinkButton href={`/stock?tab=drums&cable=${encodeURIComponent(code)}`}>
                {t("Drums")}
              </LinkButton>
            ) : null}
          </>
        }
      />
      <StatRow>
        <Stat
          label={t("Available in warehouses")}
          figure={amount(available, item.unit)}
          limit={t("reorder at {{reorderPoint}}", { reorderPoint: amount(reorderPoint, item.unit) })}
          tone={available + onTheWay < reorderAt ? "warn" : "plain"}
        />
        <Stat
          label={t("On the way")}
          figure={amount(onTheWay, item.unit)}
          limit={`${t("{{count}} open orders", { count: orderCount })}`}
        />
        <Stat
          label={t("Needed by kits")}
          figure={amount(need, item.unit)}
          limit={t("{{count}} visits", { count: new Set(needs.map((n) => n.visitId)).size })}
        />
        <Stat
          label={t("Safety stock")}
          figure={amount(item.safetyStock, item.unit)}
          limit={
            spares > 0
              ? t("from the catalogue; besides {{count}} spares kept at the warehouses", { count: spares })
              : t("kept against chance, from the catalogue")
          }
        />
        <Stat
          label={t("Runs out")}
          figure={runsOutOn ? formatDate(runsOutOn, "weekday", locale) : t("not in the plan")}
          limit={[
            stops.length > 0 ? t("{{count}} visits stop", { count: stops.length }) : t("no visit stops"),
            saved > 0 ? t("{{count}} of them saved by proposed transfers", { count: saved }) : "",
            givenAway.length > 0 ? t("{{count}} more because of them", { count: givenAway.length }) : "",
          ]
            .filter(Boolean)
            .join(", ")}
          tone={stops.length > saved ? "problem" : runsOutOn ? "warn" : "good"}
        />
      </StatRow>
      {stamp ? (
        <NettingLine
          words={nettingWords(stamp, today, machineNow(), words)}
          activeJobId={stamp.activeJobId}
        />
      ) : null}
      <div className="grid grid-cols-1 gap-4">
        {nettings.length > 0 ? (
          <Panel
            title={t("Balance by day")}
            note={
              nettings.length > 1
                ? t("Shelf by shelf, with planned transfers; the safety stock is shared as the needs are.")
                : undefined
            }
            foot={
              measured && !measured.isThin
                ? undefined
                : t(
                    "Reorder point {{reorderPoint}} = mean need over the plan, {{perDay}} a day, times {{leadTimeDays}} days + safety stock {{safetyStock}}: too few weeks on record to measure it.",
                    {
                      reorderPoint: amount(reorderPoint, item.unit),
                      perDay: formatNumber(perDay, 2, locale),
                      leadTimeDays: item.leadTimeDays,
                      safetyStock: item.safetyStock,
                    },
                  )
            }
          >
            <div className={nettings.length > 1 ? "grid grid-cols-1 gap-4 2xl:grid-cols-2" : ""}>
              {nettings.map((n) => (
                <StockProjectionChart
                  key={n.placeCode}
                  itemName={`${item.name}, ${placeWords(n.placeCode, words)}`}
                  unit={item.unit}
                  firstDay={n.body.firstOn}
                  withoutOrders={n.body.projectedWithoutOrders}
                  withOrders={n.body.projected}
                  safetyStock={nettings.length > 1 ? undefined : item.safetyStock}
                  runsOutDay={n.body.runsOutDay}
                  stops={n.body.stops}
                />
              ))}
            </div>
          </Panel>
        ) : (
          <Panel title={t("Balance by day")}>
            <p>{t("No kit of the plan in force needs it and none is on order, so nothing was netted.")}</p>
          </Panel>
        )}
        {coming.length > 0 ? (
          <Panel
            title={t("{{count}} transfers between warehouses", { count: coming.length })}
            foot={<Link href="/stock?tab=transfers">{t("Plan or move them")}</Link>}
          >
            <ul>
              {coming.map((c) => (
                <li key={`${c.fromPlace} ${c.sendOn} ${c.id}`}>
                  {c.daysLate > 0
                    ? t(
                        "{{quantity}} from {{from}} to {{to}}, to leave by {{send}}, there on {{arrive}}, {{count}} days late.",
                        {
                          quantity: amount(c.quantity, item.unit),
                          from: c.fromPlace,
                          to: c.toPlace,
                          send: formatDate(c.sendOn, "weekday", locale),
                          arrive: formatDate(c.arriveOn, "weekday", locale),
                          count: c.daysLate,
                        },
                      )
                    : t("{{quantity}} from {{from}} to {{to}}, to leave by {{send}}, there on {{arrive}}.", {
                        quantity: amount(c.quantity, item.unit),
                        from: c.fromPlace,
                        to: c.toPlace,
                        send: formatDate(c.sendOn, "weekday", locale),
                        arrive: formatDate(c.arriveOn, "weekday", locale),
                      })}
                  {c.fromReserve ? <small> {t("from what it keeps back: a visit would stop")}</small> : null}
                </li>
              ))}
            </ul>
          </Panel>
        ) : null}
        {listed.length > 0 ? (
          <Panel title={t("{{count}} visits would stop", { count: listed.length })} id="stops" flush>
            <ScrollRegion label={t("Visits that would stop")}>
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
                  </tr>
                </thead>
                <tbody>
                  {listed.map((s) => (
                    <tr key={`${s.visitId} ${s.day}`}>
                      <th scope="row">
                        <Link href={kitPath(s.visitId)}>{visitName(s.visitId, t)}</Link>
                      </th>
                      <td>{s.siteCode}</td>
                      <td>{formatDate(s.on, "weekday", locale)}</td>
                      <td className="whitespace-nowrap">{placeWords(s.placeCode, words)}</td>
                      <td data-align="end">
                        {amount(s.missing, item.unit)}
                        {s.isSaved ? (
                          <span className="block text-quiet">{t("a proposed transfer brings it")}</span>
                        ) : null}
                        {givenAway.includes(s) ? (
                          <span className="block text-quiet">
                            {t("a proposed transfer takes it to an earlier visit")}
                          </span>
                        ) : null}
                      </td>
                    </tr>
                  ))}
                </tbody>
              </table>
            </ScrollRegion>
          </Panel>
        ) : null}
        <SafetyPanel code={code} unit={item.unit} ordering={ordering} measured={measured} mayEdit={mayPost} />
        <OrderingPanel
          code={code}
          unit={item.unit}
          currency={item.currency}
          ordering={ordering}
          comparison={plan && compareLots(db, plan, today, code)}
          standard={rulesInForce(db).stockPolicy}
          mayEdit={mayPost}
        />
        <div className="grid grid-cols-1 gap-4 xl:grid-cols-2">
          <Panel
            title={t("Who needs it")}
            note={t("Kits not issued yet, and of issued ones what a fault put on hold, by pick day.")}
            flush
          >
            {needs.length === 0 ? (
              <p className="px-4 py-3">{t("No kit of the plan in force.")}</p>
            ) : (
              <ScrollRegion label={t("Needs by visit")}>
                <table className="ui-facts">
                  <thead>
                    <tr>
                      <th scope="col">{t("Visit")}</th>
                      <th scope="col">{t("Crew")}</th>
                      <th scope="col">{t("Picked")}</th>
                      <th scope="col" data-align="end">
                        {t("Quantity")}
                      </th>
                      <th scope="col">{t("Covered?")}</th>
                    </tr>
                  </thead>
                  <tbody>
                    {needs.slice(0, 60).map((n, i) => (
                      // biome-ignore lint/suspicious/noArrayIndexKey: two runs of one visit look alike
                      <tr key={`${n.visitId} ${i}`}>
                        <th scope="row">
                          <Link href={kitPath(n.visitId)}>{visitName(n.visitId, t)}</Link>
                        </th>
                        <td>{n.crewCode}</td>
                        <td>{formatDate(n.pickOn, "weekday", locale)}</td>
                        <td data-align="end">{amount(n.quantity, item.unit)}</td>
                        <td>
                          {n.shortC > 0 ? (
                            <StateMark state="short">
                              {t("{{short}} short", { short: amountC(n.shortC, item.unit, words) })}
                            </StateMark>
                          ) : (
                            <StateMark state="met">{t("Covered")}</StateMark>
                          )}
                        </td>
                      </tr>
                    ))}
                  </tbody>
                </table>
              </ScrollRegion>
            )}
          </Panel>
          <Panel title={t("Where it lies")} flush>
            {lots.length === 0 ? (
              <p className="px-4 py-3">{t("None on hand.")}</p>
            ) : (
              <ScrollRegion label={t("Lots, drums and places")}>
                <table className="ui-facts">
                  <thead>
                    <tr>
                      <th scope="col">{t("Place")}</th>
                      <th scope="col">{t("Lot or drum")}</th>
                      <th scope="col" data-align="end">
                        {t("On hand")}
                      </th>
                      <th scope="col">{t("Last day of use")}</th>
                    </tr>
                  </thead>
                  <tbody>
                    {lots.map((l) => (
                      <tr key={`${l.placeCode} ${l.lotCode} ${l.drumSerial} ${l.owner}`}>
                        <th scope="row">
                          {l.placeCode} <small>{l.placeName}</small>
                        </th>
                        <td>
                          {l.drumSerial ? (
                            <Link href={ledgerPath({ drum: l.drumSerial })}>{l.drumSerial}</Link>
                          ) : (
                            l.lotCode || "–"
                          )}
                        </td>
                        <td data-align="end">{amount(l.quantity, l.unit)}</td>
                        <td>
                          {l.isExpired ? (
                            <StateMark state="fail">
                              {t("{{expires}}: expired", {
                                expires: formatDate(l.expiresOn, "full", locale),
                              })}
                            </StateMark>
                          ) : (
                            formatDate(l.expiresOn, "full", locale)
                          )}
                        </td>
                      </tr>
                    ))}
                  </tbody>
                </table>
              </ScrollRegion>
            )}
          </Panel>
        </div>
        <Panel title={t("Orders")} flush>
          {orders.length + wanted.length === 0 ? (
            <p className="px-4 py-3">{t("None ordered, none to order.")}</p>
          ) : (
            <ScrollRegion label={t("Orders of the item")}>
              <table className="ui-facts">
                <thead>
                  <tr>
                    <th scope="col">{t("Order")}</th>
                    <th scope="col">{t("State")}</th>
                    <th scope="col" data-align="end">
                      {t("Ordered")}
                    </th>
                    <th scope="col" data-align="end">
                      {t("Received")}
                    </th>
                    <th scope="col">{t("Due")}</th>
                  </tr>
                </thead>
                <tbody>
                  {wanted.map((w) => (
                    <tr key={`${w.placeCode} ${w.releaseOn} ${w.neededOn}`}>
                      <th scope="row">
                        <Link href="/stock?tab=order">{t("to order")}</Link>
                      </th>
                      <td>
                        {w.pastDueDays > 0 ? (
                          <StateMark state="late">
                            {t("{{count}} days past due", { count: w.pastDueDays })}
                          </StateMark>
                        ) : (
                          <StateMark state="open">
                            {w.isDue
                              ? t("send by today")
                              : t("send by {{release}}", { release: formatDate(w.releaseOn, "day", locale) })}
                          </StateMark>
                        )}
                      </td>
                      <td data-align="end">{amount(w.quantity, item.unit)}</td>
                      <td data-align="end">–</td>
                      <td>{formatDate(w.arrivesOn, "weekday", locale)}</td>
                    </tr>
                  ))}
                  {orders.flatMap((o) =>
                    o.lines
                      .filter((l) => l.itemCode === code)
                      .map((l) => (
                        <tr key={`${o.code} ${l.lineNo}`}>
                          <th scope="row">
                            <Link href={orderPath(o.code)}>{o.code}</Link>
                          </th>
                          <td>
                            <OrderStateMark state={o.state} />
                          </td>
                          <td data-align="end">{amountC(l.quantityC, l.unit, words)}</td>
                          <td data-align="end">{amountC(l.receivedC, l.unit, words)}</td>
                          <td>{formatDate(l.dueOn, "weekday", locale)}</td>
                        </tr>
                      )),
                  )}
                </tbody>
              </table>
            </ScrollRegion>
          )}
        </Panel>
        {faults.length > 0 ? (
          <Panel
            title={t("Faulty pieces: {{count}} records", { count: faults.length })}
            note={t("On hold and in repair nothing is on hand; a promised day back counts like a delivery.")}
            flush
          >
            <FaultTable label={t("Faulty pieces of the item")} rows={faults} today={today} />
          </Panel>
        ) : null}
        <Panel
          title={t("Ledger")}
          flush
          foot={
            total > ledger.length ? (
              <Link href={ledgerPath({ item: code })}>{t("All {{count}} rows", { count: total })}</Link>
            ) : undefined
          }
        >
          {ledger.length === 0 ? (
            <p className="px-4 py-3">{t("Never moved.")}</p>
          ) : (
            <LedgerRows
              rows={ledger}
              reversed={reversalsOf(
                db,
                ledger.map((r) => r.id),
              )}
              zone={homeZone(db)}
              mayPost={mayPost}
            />
          )}
        </Panel>
      </div>
    </>
  );
}
