import type { Metadata } from "next";
import Link from "next/link";
import { homeToday } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { seesHop, seesSite } from "@/app/_server/regions";
import { requireRoleInRegions, type Visitor } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatDate, formatNumber } from "@/app/_ui/format";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { makeWords, type Words } from "@/app/_ui/language/words";
import { PageHead } from "@/app/_ui/PageHead";
import { packRows } from "@/app/_ui/packRows";
import { Tabs } from "@/app/_ui/Tabs";
import { remembered } from "@/db/dataState";
import { type Db, database } from "@/db/open";
import { viewsOf } from "@/db/queries/savedViews";
import { type HopListRow, loadHopRows, loadSiteRows, type SiteListRow } from "@/db/queries/siteViews";
import type { CalendarDate } from "@/lib/time";
import { heldWords } from "../hops/heldWords";
import { SavedViews } from "../views/SavedViews";
import { finishedLast, type ListedHop } from "./hopColumns";
import { Lists } from "./Lists";
import { snagOf } from "./siteColumns";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Sites and hops") };
}

interface SitesPageProps {
  searchParams: Promise<{ tab?: string; map?: string }>;
}

export default async function SitesPage({ searchParams }: SitesPageProps) {
  const words = await serverWords();
  const { t, locale } = words;
  const visitor = await requireRoleInRegions();
  const params = await searchParams;
  const tab = params.tab === "hops" ? "hops" : "sites";
  const db = database();
  const today = homeToday(db);
  const { hops, sites, rowsJson } = remembered(
    db,
    `lists ${today} ${words.locale} ${JSON.stringify(visitor.regions)}`,
    ["design", "plan", "reports", "rules"],
    () => lists(db, today, visitor, words),
  );
  const mayImport = visitor.role !== "crew lead" && visitor.regions === null;
  if (sites.length === 0) {
    return (
      <>
        <PageHead title={t("Sites and hops")} />
        <EmptyState
          title={t("No sites yet")}
          actions={
            mayImport ? (
              <>
                <LinkButton href="/import">{t("Bring in sites and hops")}</LinkButton>
                <LinkButton href="/add/site" glyph="plus">
                  {t("Add a site")}
                </LinkButton>
              </>
            ) : undefined
          }
        >
          {mayImport
            ? t(
                "Bring in the sites, hops and design data from a spreadsheet or CSV files; they are listed here.",
              )
            : t("Ask the rollout manager to bring in the sites and hops.")}
        </EmptyState>
      </>
    );
  }
  return (
    <>
      <PageHead
        title={t("Sites and hops")}
        lead={t("States by the plan in force, as of {{today}}. Dates are the site's own.", {
          today: formatDate(today, "full", locale),
        })}
        actions={
          mayImport ? (
            <>
              <LinkButton href="/add/site" glyph="plus">
                {t("Add a site")}
              </LinkButton>
              <LinkButton href="/add/hop" glyph="plus">
                {t("Add a hop")}
              </LinkButton>
              <LinkButton href="/import">{t("Bring in")}</LinkButton>
            </>
          ) : undefined
        }
      />
      <Tabs
        label={t("Lists")}
        tabs={[
          {
            href: "/sites?tab=sites",
            label: t("Sites"),
            count: formatNumber(sites.length, 0, locale),
            current: tab === "sites",
          },
          {
            href: "/sites?tab=hops",
            label: t("Hops"),
            count: formatNumber(hops.length, 0, locale),
            current: tab === "hops",
          },
        ]}
        beside={<SavedViews list={tab} views={viewsOf(db, visitor.userId, tab)} />}
      />
      <QuickViews tab={tab} sites={sites} hops={hops} />
      <Lists key={tab} tab={tab} rowsJson={rowsJson} startsWithMap={params.map === "1"} />
    </>
  );
}

function lists(db: Db, today: CalendarDate, visitor: Visitor, words: Words) {
  const all = loadHopRows(db, today);
  const hops = all.filter((hop) => seesHop(db, visitor, hop.code));
  const sites = loadSiteRows(db, today, all).filter((site) => seesSite(db, visitor, site.code));
  const listed: ListedHop[] = finishedLast(hops).map((hop) => ({
    ...hop,
    heldBy: heldWords(hop, ENGLISH),
    heldBySaid: heldWords(hop, words),
  }));
  return { hops, sites, rowsJson: JSON.stringify({ sites: packRows(sites), hops: packRows(listed) }) };
}

/** What is exported is English. */
const ENGLISH = makeWords("en", wholeCatalogueOf("en"));

/** The views that are asked for every morning, as links with their counts. */
async function QuickViews(props: {
  tab: "sites" | "hops";
  sites: readonly SiteListRow[];
  hops: readonly HopListRow[];
}) {
  const { t, locale } = await serverWords();
  const { tab, sites, hops } = props;
  const inState = (state: string) => hops.filter((h) => h.state === state).length;
  const views =
    tab === "hops"
      ? [
          { href: "f.state=late&sort=-late", label: t("Late"), count: inState("late") },
          { href: "f.state=at+risk&sort=promised", label: t("At risk"), count: inState("at risk") },
          { href: "f.state=held&sort=promised", label: t("Held"), count: inState("held") },
          {
            href: "f.checks=fails",
            label: t("Failed checks"),
            count: hops.filter((h) => (h.failCount ?? 0) > 0).length,
          },
          { href: "group=region", label: t("By region") },
        ]
      : [
          {
            href: "f.checks=fails",
            label: t("Failed checks"),
            count: sites.filter((s) => (s.failCount ?? 0) > 0).length,
          },
          {
            href: "f.gates=1..",
            label: t("Open gates"),
            count: sites.filter((s) => s.openGates > 0).length,
          },
          {
            href: "f.snag=no+coordinate&f.snag=no+earthing+bar",
            label: t("Snags"),
            count: sites.filter((s) => {
              const snag = snagOf(s);
              return snag === "no coordinate" || snag === "no earthing bar";
            }).length,
          },
          { href: "group=region", label: t("By region") },
        ];
  return (
    <nav aria-label={t("Quick views")} className="ui-no-print flex flex-wrap gap-x-4 gap-y-1 py-2">
      {views.map((v) => (
        <Link key={v.label} href={`/sites?tab=${tab}&${v.href}`} className="py-1">
          {v.label}
          {v.count === undefined ? "" : ` (${formatNumber(v.count, 0, locale)})`}
        </Link>
      ))}
    </nav>
  );
}
