import type { Metadata } from "next";
import { homeToday, homeZone, machineNow } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { requireRoleInRegions } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatDate, formatNumber } from "@/app/_ui/format";
import { PageHead } from "@/app/_ui/PageHead";
import { Stat, StatRow } from "@/app/_ui/Stat";
import { Tabs } from "@/app/_ui/Tabs";
import { database } from "@/db/open";
import { coilsOnTheirWay } from "@/db/queries/coils";
import { loadLinesDue } from "@/db/queries/itemWhatIf";
import { countOnHand } from "@/db/queries/onHand";
import { gathered, ordersToPlace } from "@/db/queries/ordersToPlace";
import { loadOrders } from "@/db/queries/orderViews";
import { loadPlaces } from "@/db/queries/places";
import { planInForce } from "@/db/queries/plans";
import { isSaved, loadRunsOut, nettingStamp } from "@/db/queries/runsOut";
import { viewsOf } from "@/db/queries/savedViews";
import { loadSuppliers } from "@/db/queries/suppliers";
import { proposedTransfers, transfersToMove } from "@/db/queries/transfers";
import { loadWaiting } from "@/db/queries/waiting";
import { SavedViews } from "../views/SavedViews";
import { DrumsTab } from "./DrumsTab";
import { LedgerTab } from "./LedgerTab";
import { NettingLine } from "./NettingLine";
import { OnHandTab } from "./OnHandTab";
import { OrdersTab } from "./OrdersTab";
import { OrderToday } from "./OrderToday";
import { RunsOut } from "./RunsOut";
import { TransfersTab } from "./TransfersTab";
import { moneyWords, namedPlace, nettingWords, STOCK_ROLES } from "./words";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Stock") };
}

const TABS = ["runs-out", "transfers", "order", "on-hand", "orders", "drums", "ledger"] as const;
type TabName = (typeof TABS)[number];

interface StockPageProps {
  searchParams: Promise<Record<string, string | undefined>>;
}

export default async function StockPage({ searchParams }: StockPageProps) {
  const visitor = await requireRoleInRegions(...STOCK_ROLES);
  const words = await serverWords();
  const { t, locale } = words;
  const params = await searchParams;
  const tab: TabName = TABS.find((t) => t === params.tab) ?? "runs-out";
  // On a phone who has chosen a view wants the view, not the figures again.
  const isChosen = params.tab !== undefined;
  const db = database();
  const today = homeToday(db);
  const onHand = countOnHand(db, today);
  const orders = loadOrders(db);
  const mayPost = visitor.role === "logistics" || visitor.role === "administrator";
  if (onHand.rows === 0 && orders.length === 0) {
    return (
      <>
        <PageHead title={t("Stock")} />
        <EmptyState
          title={t("Nothing in stock yet")}
          actions={
            <>
              <LinkButton href="/import" kind="primary">
                {t("Bring in opening stock")}
              </LinkButton>
              {mayPost ? <LinkButton href="/stock/record">{t("Record a receipt")}</LinkButton> : null}
            </>
          }
        >
          {t(
            "Bring in items, places and opening stock from a spreadsheet, or record the first receipt by hand.",
          )}
        </EmptyState>
      </>
    );
  }
  const plan = planInForce(db);
  const { rows: runsOut, sitesThatStop } = plan ? loadRunsOut(db, plan.id) : { rows: [], sitesThatStop: 0 };
  const toPlace = plan ? gathered(ordersToPlace(db, plan, today)) : [];
  const waiting = loadWaiting(db).orders;
  const due = toPlace.filter((o) => o.isDue);
  const proposed = plan ? proposedTransfers(db, plan.id) : [];
  const planned = transfersToMove(db);
  const coils = plan ? coilsOnTheirWay(db, plan.id) : [];
  const lines = loadLinesDue(db);
  const placeNames = new Map(loadPlaces(db).map((p) => [p.code, p.name]));
  // By the first day that no transfer saves; the tab's table goes by the first day of all.
  const stopping = runsOut
    .filter((r) => r.stopsLeft > 0)
    .sort((a, b) => (a.firstStopOn ?? "9").localeCompare(b.firstStopOn ?? "9"));
  const itemsThatStop = new Set(stopping.map((r) => r.itemCode)).size;
  const late = due.filter((o) => o.pastDueDays > 0).length;
  const bought = due
    .filter((o) => o.kind === "purchase")
    .map((o) => ({ minor: o.costMinor, currency: o.currency }));
  const overdue = lines.filter((l) => l.dueOn < today).length;
  const { expired } = onHand;
  const stamp = plan && nettingStamp(db, plan.id);
  const tabs: [TabName, string, number | undefined][] = [
    ["runs-out", t("Runs out"), runsOut.filter((r) => !isSaved(r)).length],
    ["transfers", t("Transfers"), proposed.length + planned.length + coils.length],
    ["order", t("Order today"), due.length],
    ["on-hand", t("On hand"), undefined],
    ["orders", t("Orders"), orders.filter((o) => o.state !== "closed").length],
    ["drums", t("Drums"), undefined],
    ["ledger", t("Ledger"), undefined],
  ];
  return (
    <>
      <PageHead
        title={t("Stock")}
        lead={
          <span className={isChosen ? "max-sm:hidden" : undefined}>
            {t("What runs out, what stops for it, what to order. As of {{today}}, zone {{homeZone}}.", {
              today: formatDate(today, "full", locale),
              homeZone: homeZone(db),
            })}
          </span>
        }
        manyActions
        actions={
          <>
            <LinkButton href="/stock/scan">{t("Scan")}</LinkButton>
            <LinkButton href="/stock/labels">{t("Labels")}</LinkButton>
            <LinkButton href="/kits">{t("Kits")}</LinkButton>
            <LinkButton href="/stock/close-out">{t("Close-out")}</LinkButton>
            {visitor.regions === null ? <LinkButton href="/stock/offcuts">{t("Offcuts")}</LinkButton> : null}
            <LinkButton href="/stock/counts">{t("Counts")}</LinkButton>
            <LinkButton href="/stock/spares">{t("Spares")}</LinkButton>
            <LinkButton href="/stock/faults">{t("Faulty pieces")}</LinkButton>
            {mayPost ? <LinkButton href="/stock/record">{t("Record a movement")}</LinkButton> : null}
          </>
        }
      />
      <div className={isChosen ? "max-sm:hidden" : undefined}>
        <StatRow>
          <Stat
            label={t("Work stops first")}
            figure={stopping[0] ? formatDate(stopping[0].firstStopOn, "weekday", locale) : t("no day")}
            limit={
              stopping[0]
                ? t("first kit to lack a part when it is picked, transfers counted: {{name}}, {{place}}", {
                    name: stopping[0].name,
                    place: namedPlace(stopping[0].placeCode, placeNames, words),
                  })
                : t("every planned kit is covered")
            }
            tone={stopping[0] ? "problem" : "good"}
            href="/stock?tab=runs-out"
          />
          <Stat
            label={t("Sites that stop")}
            figure={formatNumber(sitesThatStop, 0, locale)}
            limit={t("for {{count}} items, after transfers, without new orders", { count: itemsThatStop })}
            tone={sitesThatStop > 0 ? "warn" : "plain"}
            href="/stock?tab=runs-out"
          />
          <Stat
            label={t("Order today")}
            figure={t("{{count}} lines", { count: due.length })}
            limit={
              late > 0
                ? t("{{late}} already too late; {{money}} of our own", {
                    late: formatNumber(late, 0, locale),
                    money: moneyWords(bought, words),
                  })
                : waiting > 0
                  ? t("{{count}} orders wait for approval", { count: waiting })
                  : t("none too late")
            }
            tone={late > 0 ? "problem" : due.length > 0 || waiting > 0 ? "warn" : "good"}
            href="/stock?tab=order"
          />
          <Stat
            label={t("On the way")}
            figure={t("{{count}} lines", { count: lines.length })}
            limit={
              overdue > 0
                ? t("{{overdue}} overdue", { overdue: formatNumber(overdue, 0, locale) })
                : t("none overdue")
            }
            tone={overdue > 0 ? "problem" : "plain"}
            href="/stock?tab=orders"
          />
          <Stat
            label={t("Expired on the shelf")}
            figure={t("{{count}} lot rows", { count: expired })}
            limit={t("not available to any kit")}
            tone={expired > 0 ? "warn" : "plain"}
            href="/stock?tab=on-hand&f.state=expired&expired=1"
          />
        </StatRow>
      </div>
      {stamp ? (
        <NettingLine
          words={nettingWords(stamp, today, machineNow(), words)}
          activeJobId={stamp.activeJobId}
        />
      ) : null}
      <Tabs
        label={t("Views of the stock")}
        tabs={tabs.map(([name, label, count]) => ({
          href: `/stock?tab=${name}`,
          label,
          count: count === undefined ? undefined : formatNumber(count, 0, locale),
          current: tab === name,
        }))}
        beside={<SavedViews list="stock" views={viewsOf(db, visitor.userId, "stock")} />}
      />
      {!plan && (tab === "runs-out" || tab === "order" || tab === "drums") ? (
        <EmptyState
          title={t("No plan in force yet")}
          actions={<LinkButton href="/plan">{t("Open the plan")}</LinkButton>}
        >
          {t("What is needed when follows from the plan. Put one in force, then this view fills.")}
        </EmptyState>
      ) : tab === "runs-out" ? (
        <RunsOut
          rows={runsOut}
          placeNames={placeNames}
          isWhole={params.shown === "all"}
          lines={lines}
          slip={params.slip}
          days={params.days}
        />
      ) : tab === "transfers" ? (
        <TransfersTab
          placeNames={placeNames}
          proposed={proposed}
          isWhole={params.shown === "all"}
          planned={planned}
          coils={coils}
          today={today}
          mayPost={mayPost}
          runsOut={runsOut}
        />
      ) : tab === "order" ? (
        <OrderToday rows={toPlace} today={today} waiting={waiting} />
      ) : tab === "on-hand" ? (
        <OnHandTab params={params} rowCount={onHand.rows} today={today} />
      ) : tab === "orders" ? (
        <OrdersTab
          orders={orders}
          lines={lines}
          suppliers={loadSuppliers(db, today)}
          today={today}
          slip={params.slip}
          days={params.days}
        />
      ) : tab === "drums" ? (
        <DrumsTab planId={plan!.id} mayCut={mayPost} today={today} cable={params.cable} />
      ) : (
        <LedgerTab params={params} mayPost={mayPost} />
      )}
    </>
  );
}
