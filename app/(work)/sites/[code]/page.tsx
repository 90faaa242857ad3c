import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { type ReactNode, Suspense } from "react";
import { seesSite } from "@/app/_server/regions";
import { refuseRegion, requireRoleInRegions, type Visitor } from "@/app/_server/session";
import { formatMetres } from "@/app/_ui/format";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { StateMark, Tag } from "@/app/_ui/StateMark";
import { Tabs } from "@/app/_ui/Tabs";
import { GateTable } from "@/app/(work)/hops/[code]/GateTable";
import { HOP_STATE, hopPath, STRUCTURE_WORDS, sitePath } from "@/app/(work)/hops/hopStates";
import { PhotoGrid } from "@/app/(work)/photos/PhotoGrid";
import { database } from "@/db/open";
import { photosOfHop } from "@/db/queries/photos";
import { loadHopRows, loadReportsOfHops, loadVisitViews } from "@/db/queries/siteViews";
import { parseVisitId } from "@/lib/programme";
import { DesignTab } from "./DesignTab";
import { loadSiteDesk, type SiteEnd } from "./desk";
import { HoursTab } from "./HoursTab";
import { SiteFacts, SnagNotices } from "./SiteFacts";
import { ReportTable, VisitTable } from "./VisitTables";
import { WindowsTab } from "./WindowsTab";

const TABS = [
  { id: "overview", label: "Overview", asksEnd: false },
  { id: "design", label: "Take-off", asksEnd: true },
  { id: "hours", label: "Hours", asksEnd: true },
  { id: "weather", label: "Weather", asksEnd: true },
  { id: "history", label: "Visits and history", asksEnd: false },
] as const;

interface SitePageProps {
  params: Promise<{ code: string }>;
  searchParams: Promise<{ tab?: string; end?: string }>;
}

export async function generateMetadata({ params }: SitePageProps): Promise<Metadata> {
  return { title: `Site ${decodeURIComponent((await params).code)}` };
}

export default async function SitePage({ params, searchParams }: SitePageProps) {
  const visitor = await requireRoleInRegions();
  const code = decodeURIComponent((await params).code);
  const asked = await searchParams;
  const db = database();
  const loaded = loadSiteDesk(db, code);
  if (!loaded) notFound();
  if (!seesSite(db, visitor, code)) refuseRegion();
  const { site, ends, desk } = loaded;
  const tab = TABS.find((t) => t.id === asked.tab) ?? TABS[0];
  const end = ends.find((e) => e.key === asked.end) ?? ends[0];
  const href = (tabId: string, key = end?.key) =>
    `${sitePath(code)}?tab=${tabId}${key ? `&end=${encodeURIComponent(key)}` : ""}`;
  const states = new Map(
    loadHopRows(
      db,
      ends.map((e) => e.hop.code),
    ).map((h) => [h.code, h.state]),
  );

  return (
    <>
      <PageHead
        title={`${site.code} ${site.name}`}
        lead={`${STRUCTURE_WORDS[site.structure]}, ${formatMetres(site.structureHeightM)}, ${site.region}`}
        crumbs={[{ label: "Sites and hops", href: "/sites" }]}
        marks={[...states].map(([hop, state]) => (
          <Link key={hop} href={hopPath(hop)}>
            <StateMark state={HOP_STATE[state].state}>
              {hop} {HOP_STATE[state].word.toLowerCase()}
            </StateMark>
          </Link>
        ))}
      />
      <Tabs
        label="Views of the site"
        tabs={TABS.map((t) => ({ href: href(t.id), label: t.label, current: t === tab }))}
      />
      {tab.asksEnd ? <EndPicker ends={ends} current={end} href={(key) => href(tab.id, key)} /> : null}
      <div className="grid gap-4">
        {tab.id === "overview" ? (
          <>
            <SnagNotices site={site} ends={ends} />
            <SiteFacts site={site} ends={ends} />
            {ends.map((e) => (
              <Panel key={e.key} title={`Gates of ${e.hop.code}, ${e.side} end`} flush>
                <GateTable gates={e.hop.gates.filter((g) => g.side === undefined || g.side === e.side)} />
              </Panel>
            ))}
          </>
        ) : null}
        {tab.asksEnd && !end ? <Panel>No hop has an end at this site yet.</Panel> : null}
        {tab.id === "design" && end ? <DesignTab end={end} desk={desk} /> : null}
        {tab.id === "hours" && end ? (
          <Waiting key={end.key} words="Working out the order of work …">
            <HoursTab end={end} desk={desk} />
          </Waiting>
        ) : null}
        {tab.id === "weather" && end ? (
          <Waiting key={end.key} words="Reading the forecast and past years …">
            <WindowsTab end={end} desk={desk} />
          </Waiting>
        ) : null}
        {tab.id === "history" ? <History siteCode={code} ends={ends} visitor={visitor} /> : null}
      </div>
    </>
  );
}

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
function EndPicker(props: {
  ends: readonly SiteEnd[];
  current: SiteEnd | undefined;
  href: (key: string) => string;
}) {
  const { ends, current, href } = props;
  if (!current) return null;
  return (
    <nav aria-label="Link end" className="flex flex-wrap items-center gap-x-4 gap-y-1 py-3">
      {ends.map((e) => (
        <Link
          key={e.key}
          href={href(e.key)}
          aria-current={e === current ? "true" : undefined}
          className={e === current ? "font-bold" : undefined}
        >
          {e.hop.code} {e.side} end, to {e.otherSite.code}
        </Link>
      ))}
      <Tag>{current.hop.scheme}</Tag>
      <Tag>{current.hop.bandGhz} GHz</Tag>
    </nav>
  );
}

function History(props: { siteCode: string; ends: readonly SiteEnd[]; visitor: Visitor }) {
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
      <Panel title="Visits of the plan in force" flush>
        {visits.length > 0 ? (
          <VisitTable visits={visits} />
        ) : (
          <p className="px-4 py-3">
            No visit here is in the plan in force. <Link href="/plan">Open the plan</Link>.
          </p>
        )}
      </Panel>
      <Panel title="Reports from the field" flush>
        {reports.length > 0 ? (
          <ReportTable reports={reports} />
        ) : (
          <p className="px-4 py-3">Nothing has been reported from here yet.</p>
        )}
      </Panel>
      <PhotoGrid db={db} visitor={visitor} photos={photos} empty="No photo has come from here yet." />
    </>
  );
}
