import type { Metadata } from "next";
import { homeToday } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { seesHop, seesSite } from "@/app/_server/regions";
import { requireRoleInRegions, type Visitor } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatDate } from "@/app/_ui/format";
import { PageHead } from "@/app/_ui/PageHead";
import { packRows } from "@/app/_ui/packRows";
import { remembered } from "@/db/dataState";
import { type Db, database } from "@/db/open";
import { crewsByHop } from "@/db/queries/mapViews";
import { planInForce } from "@/db/queries/plans";
import { readSetting } from "@/db/queries/settings";
import { loadHopRows, loadSiteRows } from "@/db/queries/siteViews";
import { crewCodes } from "@/db/queries/week";
import { addDays, type CalendarDate } from "@/lib/time";
import { readChoice } from "./address";
import { MapDesk } from "./MapDesk";
import type { MapHopRow, MapSiteRow } from "./scene";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Map") };
}

interface MapPageProps {
  searchParams: Promise<Record<string, string | undefined>>;
}

export default async function MapPage({ searchParams }: MapPageProps) {
  const { t, locale } = await serverWords();
  const visitor = await requireRoleInRegions();
  const search = await searchParams;
  const db = database();
  const today = homeToday(db);
  const { count, rowsJson } = remembered(
    db,
    `map ${today} ${JSON.stringify(visitor.regions)}`,
    ["design", "plan", "reports", "rules"],
    () => mapRows(db, today, visitor),
  );
  const mayImport = visitor.role !== "crew lead" && visitor.regions === null;
  const plan = planInForce(db);
  const outlines = readSetting(db, "mapOutlines");
  const tiles = readSetting(db, "mapTiles");
  return (
    <>
      <PageHead
        title={t("Map")}
        lead={t("Where sites and hops lie and how they stand by the plan in force, as of {{day}}.", {
          day: formatDate(today, "full", locale),
        })}
        actions={
          visitor.role === "administrator" && visitor.regions === null ? (
            <LinkButton href="/map/ground">{t("What lies under it")}</LinkButton>
          ) : undefined
        }
      />
      {count === 0 ? (
        <EmptyState
          title={t("Nothing to draw yet")}
          actions={
            mayImport ? <LinkButton href="/import">{t("Bring in sites and hops")}</LinkButton> : undefined
          }
        >
          {t("Sites are drawn here as soon as they are brought in with their coordinates.")}
        </EmptyState>
      ) : (
        <MapDesk
          rowsJson={rowsJson}
          crews={crewCodes(db)}
          today={today}
          firstDay={plan?.firstDay}
          lastDay={plan && addDays(plan.firstDay, plan.dayCount - 1)}
          outlines={outlines && { version: outlines.version, label: outlines.label }}
          tiles={tiles}
          choice={readChoice(search)}
          mayImport={mayImport}
        />
      )}
    </>
  );
}

/** Sites and hops of the visitor's regions, and the sites outside in which such a hop ends. */
function mapRows(db: Db, today: CalendarDate, visitor: Visitor): { count: number; rowsJson: string } {
  const all = loadHopRows(db, today);
  const seen = all.filter((hop) => seesHop(db, visitor, hop.code));
  const crews = crewsByHop(db);
  const ends = new Set(seen.flatMap((hop) => [hop.nearSite, hop.farSite]));
  const sites = loadSiteRows(db, today, all).flatMap((s): MapSiteRow[] => {
    const isSeen = seesSite(db, visitor, s.code);
    if (!isSeen && !ends.has(s.code)) return [];
    return [
      {
        code: s.code,
        name: s.name,
        region: s.region,
        state: isSeen ? s.state : "no hops",
        latDeg: s.latDeg,
        lonDeg: s.lonDeg,
        nextVisitOn: isSeen ? s.nextVisitOn : null,
        isOutside: !isSeen,
      },
    ];
  });
  const hops = seen.map(
    (h): MapHopRow => ({
      code: h.code,
      region: h.region,
      state: h.state,
      nearSite: h.nearSite,
      farSite: h.farSite,
      lengthKm: h.lengthKm,
      promisedOn: h.promisedOn,
      plannedOn: h.doneOn ?? h.plannedOn,
      crews: ` ${(crews.get(h.code) ?? []).join(" ")} `,
    }),
  );
  return {
    count: sites.length,
    rowsJson: JSON.stringify({ sites: packRows(sites), hops: packRows(hops) }),
  };
}
