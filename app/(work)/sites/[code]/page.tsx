import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { type ReactNode, Suspense } from "react";
import { homeToday } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { seesSite } from "@/app/_server/regions";
import { refuseRegion, requireRoleInRegions, type Visitor } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { formatMetres } from "@/app/_ui/format";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { StateMark, Tag } from "@/app/_ui/StateMark";
import { Tabs } from "@/app/_ui/Tabs";
import { SavedSite, savedOf } from "@/app/(work)/add/SavedNotice";
import { GateTable } from "@/app/(work)/hops/[code]/GateTable";
import { HOP_STATE, hopPath, STRUCTURE_WORDS, sitePath } from "@/app/(work)/hops/hopStates";
import { PhotoGrid } from "@/app/(work)/photos/PhotoGrid";
import { database } from "@/db/open";
import { photosOfHop } from "@/db/queries/photos";
import { doneVisits } from "@/db/queries/reports";
import { loadHopRows, loadReportsOfHops, loadVisitViews } from "@/db/queries/siteViews";
import { isInstallDone, parseVisitId } from "@/lib/programme";
import { DesignTab } from "./DesignTab";
import { loadSiteDesk, type SiteEnd } from "./desk";
import { HoursTab } from "./HoursTab";
import { HungPanel } from "./HungPanel";
import { SiteFacts, SnagNotices } from "./SiteFacts";
import { ReportTable, VisitTable } from "./VisitTables";
import { WindowsTab } from "./WindowsTab";

/** Their labels are said in the reader's language. */
const TABS = [
  { id: "overview", label: "Overview", asksEnd: false },
  { id: "design", label: "Take-off", asksEnd: true },
  { id: "hours", label: "Hours", asksEnd: true },
  { id: "weather", label: "Weather", asksEnd: true },
  { id: "history", label: "Visits and history", asksEnd: false },
] as const;

interface SitePageProps {
  params: Promise<{ code: string }>;
  searchParams: Promise<{ tab?: string; end?: string; saved?: string }>;
}

export async function generateMetadata({ params }: SitePageProps): Promise<Metadata> {
  const { t } = await serverWords();
  return { title: t("Site {{code}}", { code: decodeURIComponent((await params).code) }) };
}

export default async function SitePage({ params, searchParams }: SitePageProps) {
  const { locale, t } = await serverWords();
  const visitor = await requireRoleInRegions();
  const code = decodeURIComponent((await params).code);
  const asked = await searchParams;
  const db = database();
  const loaded = loadSiteDesk(db, code);
  if (!loaded) notFound();
  if (!seesSite(db, visitor, code)) refuseRegion();
  const { site, ends, desk } = loaded;
  const tab = TABS.find(({ id }) => id === asked.tab) ?? TABS[0];
  const saved = savedOf(asked.saved);
  const mayImport = visitor.role !== "crew lead" && visitor.regions === null;
  // Who comes without a choice comes for work that is still to be done.
  const done = doneVisits(db);
  const isOpen = (e: (typeof ends)[number]) => !isInstallDone(done, e.hop.code, e.side);
  const end = ends.find((e) => e.key === asked.end) ?? ends.find(isOpen) ?? ends[0];
  const href = (tabId: string, key = end?.key) =>
    `${sitePath(code)}?tab=${tabId}${key ? `&end=${encodeURIComponent(key)}` : ""}`;
  const states = new Map(
    loadHopRows(
      db,
      homeToday(db),
      ends.map((e) => e.hop.code),
    ).map((h) => [h.code, h.state]),
  );

  return (
    <>
      <PageHead
        title={`${site.code} ${site.name}`}
        lead={`${t(STRUCTURE_WORDS[site.structure])}, ${formatMetres(site.structureHeightM, locale)}, ${site.region}`}
        crumbs={[{ label: t("Sites and hops"), href: "/sites" }]}
        actions={
          mayImport ? (
            <>
              <LinkButton href={`${sitePath(code)}/change`}>{t("Change (verb)")}</LinkButton>
              <LinkButton href={`/add/hop?near=${encodeURIComponent(code)}`} glyph="plus">
                {t("Add a hop from here")}
              </LinkButton>
            </>
          ) : undefined
        }
        marks={[...states].map(([hop, state]) => (
          <Link key={hop} href={hopPath(hop)}>
            <StateMark state={HOP_STATE[state].state}>
              {hop} {inSentence(t(HOP_STATE[state].word), locale)}
            </StateMark>
          </Link>
        ))}
      />
      <Tabs
        label={t("Views of the site")}
        tabs={TABS.map((one) => ({ href: href(one.id), label: t(one.label), current: one === tab }))}
      />
      {tab.asksEnd ? <EndPicker ends={ends} current={end} href={(key) => href(tab.id, key)} /> : null}
      <div className="grid gap-4">
        {tab.id === "overview" ? (
          <>
            {saved && mayImport ? <SavedSite code={code} saved={saved} /> : null}
            <SnagNotices site={site} ends={ends} mayImport={mayImport} />
            <SiteFacts site={site} ends={ends} />
            {ends.map((e) => (
              <HungPanel key={`radios ${e.key}`} end={e} mayPost={visitor.role !== "crew lead"} />
            ))}
            {ends.map((e) => (
              <Panel
                key={e.key}
                title={t("Gates of {{hop}}, {{side}} end", { hop: e.hop.code, side: t(e.side) })}
                flush
              >
                <GateTable gates={e.hop.gates.filter((g) => g.side === undefined || g.side === e.side)} />
              </Panel>
            ))}
          </>
        ) : null}
        {tab.asksEnd && !end ? <Panel>{t("No hop has an end at this site yet.")}</Panel> : null}
        {tab.id === "design" && end ? <DesignTab end={end} desk={desk} /> : null}
        {tab.id === "hours" && end ? (
          <Waiting key={end.key} words={t("Working out the order of work …")}>
            <HoursTab end={end} desk={desk} />
          </Waiting>
        ) : null}
        {tab.id === "weather" && end ? (
          <Waiting key={end.key} words={t("Reading the forecast and past years …")}>
            <WindowsTab end={end} desk={desk} />
          </Waiting>
        ) : null}
        {tab.id === "history" ? <History siteCode={code} ends={ends} visitor={visitor} /> : null}
      </div>
    </>
  );
}

/** A word of ours inside a sentence: English writes it small, German as it is. */
const inSentence = (word: string, locale: string): string =>
  locale.startsWith("en") ? word.toLowerCase() : word;

function Waiting({ words, children }: { words: string; children: ReactNode }) {
  return (
    <Suspense
      fallback={
        <p role="status" style={{ minHeight: "70vh" }}>
          {words}
        </p>
      }
    >
      {children}
    </Suspense>
  );
}

/** Which of the site's ends a tab is about; a single end is only named. */
async function EndPicker(props: {
  ends: readonly SiteEnd[];
  current: SiteEnd | undefined;
  href: (key: string) => string;
}) {
  const { t } = await serverWords();
  const { ends, current, href } = props;
  if (!current) return null;
  return (
    <nav aria-label={t("Link end")} className="flex flex-wrap items-center gap-x-4 gap-y-1 py-3">
      {ends.map((e) => (
        <Link
          key={e.key}
          href={href(e.key)}
          aria-current={e === current ? "true" : undefined}
          className={e === current ? "font-bold" : undefined}
        >
          {t("{{hop}} {{side}} end, to {{site}}", {
            hop: e.hop.code,
            side: t(e.side),
            site: e.otherSite.code,
          })}
        </Link>
      ))}
      <Tag>{t(current.hop.scheme)}</Tag>
      <Tag>{current.hop.bandGhz} GHz</Tag>
    </nav>
  );
}

async function History(props: { siteCode: string; ends: readonly SiteEnd[]; visitor: Visitor }) {
  const { t } = await serverWords();
  const { siteCode, ends, visitor } = props;
  const db = database();
  const visits = loadVisitViews(db, { siteCode });
  const here = new Set(ends.map((e) => e.key));
  const hops = [...new Set(ends.map((e) => e.hop.code))];
  const isHere = ({ visitId }: { visitId: string }) => {
    const visit = parseVisitId(visitId);
    return visit && here.has(`${visit.hopCode}/${visit.side}`);
  };
  const reports = loadReportsOfHops(db, hops).filter(isHere);
  const photos = hops.flatMap((hop) => photosOfHop(db, hop)).filter(isHere);
  return (
    <>
      <Panel title={t("Visits of the plan in force")} flush>
        {visits.length > 0 ? (
          <VisitTable visits={visits} />
        ) : (
          <p className="px-4 py-3">
            {t("No visit here is in the plan in force.")} <Link href="/plan">{t("Open the plan")}</Link>.
          </p>
        )}
      </Panel>
      <Panel title={t("Reports from the field")} flush>
        {reports.length > 0 ? (
          <ReportTable reports={reports} />
        ) : (
          <p className="px-4 py-3">{t("Nothing has been reported from here yet.")}</p>
        )}
      </Panel>
      <PhotoGrid db={db} visitor={visitor} photos={photos} empty={t("No photo has come from here yet.")} />
    </>
  );
}
