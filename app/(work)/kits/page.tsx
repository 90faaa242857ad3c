import type { Metadata } from "next";
import Link from "next/link";
import { homeToday } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { ofSeenHops } from "@/app/_server/regions";
import { requireRoleInRegions } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatDate, formatNumber, formatQuantity } from "@/app/_ui/format";
import { LongTable } from "@/app/_ui/LongTable";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { Stat, StatRow } from "@/app/_ui/Stat";
import { StateMark } from "@/app/_ui/StateMark";
import { Tabs } from "@/app/_ui/Tabs";
import { database } from "@/db/open";
import { loadCrews } from "@/db/queries/crews";
import { type Hold, holdsOf } from "@/db/queries/holds";
import { type KitRow, type LoadRow, loadKitRows, vehicleLoads } from "@/db/queries/kitRows";
import { planInForce } from "@/db/queries/plans";
import { viewsOf } from "@/db/queries/savedViews";
import { addDays, type CalendarDate, weekdayOf } from "@/lib/time";
import { kitPath } from "../stock/words";
import { SavedViews } from "../views/SavedViews";
import { KitStateMark } from "./KitStateMark";
import { kitName } from "./kitName";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Kits") };
}

interface KitsPageProps {
  searchParams: Promise<{ crew?: string; show?: string }>;
}

/** Kits by pick day: what to pick now, what is short, and whether the vehicle can carry it. */
export default async function KitsPage({ searchParams }: KitsPageProps) {
  const visitor = await requireRoleInRegions();
  const { t, locale } = await serverWords();
  const params = await searchParams;
  const db = database();
  const today = homeToday(db);
  const plan = planInForce(db);
  const isLead = visitor.role === "crew lead";
  // On a phone who has chosen a list wants the list, not the figures again.
  const isChosen = params.show !== undefined || params.crew !== undefined;
  const crew = isLead ? (visitor.crewId ?? "none") : params.crew;
  const all = plan ? ofSeenHops(db, visitor, loadKitRows(db, plan.id)) : [];
  if (!plan || all.length === 0) {
    return (
      <>
        <PageHead title={t("Kits")} />
        <EmptyState
          title={plan ? t("No kits in this plan") : t("No plan in force yet")}
          actions={isLead ? undefined : <LinkButton href="/plan">{t("Open the plan")}</LinkButton>}
        >
          {t("Kits follow the plan in force: one for every install that is placed.")}{" "}
          {isLead ? t("Ask the rollout manager.") : ""}
        </EmptyState>
      </>
    );
  }
  const holds = holdsOf(db, plan);
  const mine = crew ? all.filter((k) => k.crewCode === crew) : all;
  const show = params.show === "issued" ? "issued" : "open";
  const open = mine.filter((k) => k.state !== "issued" && !k.isNeverIssued);
  const neverIssued = mine.filter((k) => k.isNeverIssued);
  const issued = mine.filter((k) => k.state === "issued");
  const sunday = addDays(today, 7 - weekdayOf(today));
  const groups: { title: string; label: string; note: string; rows: KitRow[] }[] = [
    {
      title: t("Today"),
      label: t("Kits today"),
      note: t("Pick day today or passed."),
      rows: open.filter((k) => k.pickOn <= today),
    },
    {
      title: t("This week"),
      label: t("Kits this week"),
      note: t("To Sunday {{day}}.", { day: formatDate(sunday, "day", locale) }),
      rows: open.filter((k) => k.pickOn > today && k.pickOn <= sunday),
    },
    {
      title: t("Later"),
      label: t("Kits later"),
      note: t("By pick day."),
      rows: open.filter((k) => k.pickOn > sunday),
    },
  ];
  const crews = loadCrews(db);
  const loads = vehicleLoads(mine, new Map(crews.map((c) => [c.code, c.payloadKg]))).filter(
    (l) => l.startOn >= today,
  );
  const over = loads.filter((l) => l.massKg > l.payloadKg);
  const short = open.filter((k) => k.shortCount > 0);
  const href = (part: { crew?: string; show?: string }) => {
    const q = new URLSearchParams();
    const next = { crew: isLead ? undefined : crew, show, ...part };
    if (next.crew) q.set("crew", next.crew);
    if (part.show || next.show === "issued") q.set("show", next.show);
    return q.size > 0 ? `/kits?${q}` : "/kits";
  };
  return (
    <>
      <PageHead
        title={isLead ? t("Kits of crew {{crew}}", { crew: crew ?? "" }) : t("Kits")}
        lead={t("By the plan in force, one working day before the visit. As of {{day}}.", {
          day: formatDate(today, "full", locale),
        })}
        actions={
          isLead ? undefined : (
            <>
              <LinkButton href="/stock/scan">{t("Scan")}</LinkButton>
              <LinkButton href="/stock/labels?kind=kit">{t("Labels")}</LinkButton>
              <LinkButton href="/stock">{t("Stock")}</LinkButton>
            </>
          )
        }
      />
      <div className={isChosen ? "max-sm:hidden" : undefined}>
        <StatRow>
          <Stat
            label={t("To pick today")}
            figure={t("{{count}} kits", { count: groups[0]!.rows.length })}
            limit={t("{{number}} begun", {
              number: formatNumber(groups[0]!.rows.filter((k) => k.state === "picked").length, 0, locale),
            })}
            tone={groups[0]!.rows.length > 0 ? "warn" : "good"}
          />
          <Stat
            label={t("This week")}
            figure={t("{{count}} kits", { count: groups[1]!.rows.length })}
            limit={t("after today")}
          />
          <Stat
            label={t("Kits with short lines")}
            figure={formatNumber(short.length, 0, locale)}
            limit={
              short[0]
                ? t("first picked {{day}}", { day: formatDate(short[0].pickOn, "weekday", locale) })
                : t("all covered")
            }
            tone={short.length > 0 ? "problem" : "good"}
          />
          <Stat
            label={t("Vehicles over payload")}
            figure={t("{{count}} days", { count: over.length })}
            limit={
              over[0]
                ? t("first {{crew}} on {{day}}", {
                    crew: over[0].crewCode,
                    day: formatDate(over[0].startOn, "weekday", locale),
                  })
                : t("none")
            }
            tone={over.length > 0 ? "problem" : "good"}
          />
          <Stat
            label={t("Issued")}
            figure={formatNumber(issued.length, 0, locale)}
            limit={
              neverIssued.length > 0
                ? t("{{count}} visits done without their kit", { count: neverIssued.length })
                : t("on the vehicles")
            }
            tone={neverIssued.length > 0 ? "warn" : undefined}
            href={href({ show: "issued" })}
          />
        </StatRow>
      </div>
      {isLead ? null : (
        <nav aria-label={t("Crews")} className="ui-no-print flex flex-wrap gap-x-4 gap-y-1 py-2">
          <Link href={href({ crew: undefined })} aria-current={crew ? undefined : "page"} className="py-1">
            {t("All crews")}
          </Link>
          {crews.map((c) => (
            <Link
              key={c.code}
              href={href({ crew: c.code })}
              aria-current={crew === c.code ? "page" : undefined}
              className="py-1"
            >
              {c.code} {c.name}
            </Link>
          ))}
        </nav>
      )}
      <Tabs
        label={t("Kits by state")}
        tabs={[
          {
            href: href({ show: "open" }),
            label: t("To pick and issue"),
            count: formatNumber(open.length, 0, locale),
            current: show === "open",
          },
          {
            href: href({ show: "issued" }),
            label: t("Issued"),
            count: formatNumber(issued.length, 0, locale),
            current: show === "issued",
          },
        ]}
        beside={<SavedViews list="kits" views={viewsOf(db, visitor.userId, "kits")} />}
      />
      <div className="grid grid-cols-1 gap-4">
        {show === "issued" && neverIssued.length > 0 ? (
          <Panel
            title={t("{{count}} kits never issued, their visits done", { count: neverIssued.length })}
            note={
              isLead
                ? undefined
                : t(
                    "They claim nothing of the shelves. Open one and issue what left, so that the shelf is right.",
                  )
            }
            flush
          >
            <KitTable label={t("Kits never issued")} rows={neverIssued} holds={holds} today={today} />
          </Panel>
        ) : null}
        {show === "issued" ? (
          <Panel title={t("Issued")} note={t("Unused material is returned on the kit's page.")} flush>
            {issued.length === 0 ? (
              <p className="px-4 py-3">{t("No kit is out.")}</p>
            ) : (
              <KitTable label={t("Issued kits")} rows={issued} holds={holds} today={today} />
            )}
          </Panel>
        ) : (
          groups.map((g) => (
            <Panel
              key={g.title}
              title={`${g.title}: ${t("{{count}} kits", { count: g.rows.length })}`}
              note={g.note}
              flush
            >
              {g.rows.length === 0 ? (
                <p className="px-4 py-3">{t("Nothing to pick.")}</p>
              ) : (
                <KitTable label={g.label} rows={g.rows} holds={holds} today={today} />
              )}
            </Panel>
          ))
        )}
        <Loads rows={loads} />
      </div>
    </>
  );
}

async function KitTable({
  label,
  rows,
  holds,
  today,
}: {
  label: string;
  rows: readonly KitRow[];
  /** Visits on hold. */
  holds: ReadonlyMap<string, Hold>;
  today: CalendarDate;
}) {
  const { t, locale } = await serverWords();
  return (
    <LongTable
      label={label}
      head={
        <tr>
          <th scope="col">{t("Kit")}</th>
          <th scope="col">{t("State")}</th>
          <th scope="col">{t("Lines")}</th>
          <th scope="col">{t("Pick")}</th>
          <th scope="col">{t("At")}</th>
          <th scope="col">{t("Crew, visit")}</th>
          <th scope="col">{t("Site")}</th>
          <th scope="col" data-align="end">
            {t("Mass")}
          </th>
        </tr>
      }
      rows={rows.map((k) => ({
        key: k.visitId,
        text: [
          `${kitName(k, t)} ${k.siteCode} ${k.siteName} ${k.placeCode} ${k.placeName}`,
          `${k.crewCode ?? ""} ${formatDate(k.pickOn, "weekday", locale)} ${formatDate(k.startOn, "weekday", locale)}`,
        ].join(" "),
        cells: (
          <>
            <th scope="row" data-label={t("Kit")}>
              <Link href={kitPath(k.visitId)}>{kitName(k, t)}</Link>
            </th>
            <td data-label={t("State")}>
              <KitStateMark state={k.state} isNeverIssued={k.isNeverIssued} />{" "}
              {k.isWithdrawn ? (
                <StateMark state="warn">{t("visit withdrawn: bring the material back")}</StateMark>
              ) : null}
              {holds.has(k.visitId) && !k.isWithdrawn ? (
                <StateMark state="hold">{t("visit on hold")}</StateMark>
              ) : null}
            </td>
            <td data-label={t("Lines")}>
              {k.state === "planned"
                ? t("{{count}} lines", { count: k.lineCount })
                : t("{{picked}} of {{count}} lines", {
                    picked: formatNumber(k.pickedCount, 0, locale),
                    count: k.lineCount,
                  })}{" "}
              {k.shortCount > 0 ? (
                <StateMark state="short">
                  {t("{{quantity}} short", { quantity: formatNumber(k.shortCount, 0, locale) })}
                </StateMark>
              ) : null}
            </td>
            <td data-label={t("Pick")}>
              {k.pickOn < today && k.state !== "issued" && !k.isNeverIssued ? (
                <StateMark state="late">{formatDate(k.pickOn, "weekday", locale)}</StateMark>
              ) : (
                formatDate(k.pickOn, "weekday", locale)
              )}
            </td>
            <td data-label={t("At")}>
              {k.placeCode} <small>{k.placeName}</small>
            </td>
            <td data-label={t("Crew, visit")}>
              {k.crewCode ?? t("no crew")}, {formatDate(k.startOn, "weekday", locale)}{" "}
              {k.state !== "issued" && !k.isNeverIssued && k.startOn !== null && k.startOn <= today ? (
                <StateMark state="late">
                  {k.startOn === today ? t("visit is today") : t("visit has begun")}
                </StateMark>
              ) : null}
            </td>
            <td data-label={t("Site")}>
              {k.siteCode} {k.siteName}
            </td>
            <td data-label={t("Mass")} data-align="end">
              {formatQuantity(k.massKg, "kg", 0, locale)}
            </td>
          </>
        ),
      }))}
    />
  );
}

const LOADS_SHOWN = 15;

async function Loads({ rows }: { rows: readonly LoadRow[] }) {
  const { t, locale } = await serverWords();
  if (rows.length === 0) return null;
  const shown = rows.slice(0, LOADS_SHOWN);
  return (
    <Panel
      title={t("What the vehicles carry")}
      note={t(
        "Kits of one crew and day together, against the vehicle's payload. People and tools come on top: the driver checks the load.",
      )}
      flush
    >
      <ScrollRegion label={t("Load by crew and day")}>
        <table className="ui-facts">
          <thead>
            <tr>
              <th scope="col">{t("Day")}</th>
              <th scope="col">{t("Crew")}</th>
              <th scope="col" data-align="end" className="max-sm:hidden">
                {t("Kits")}
              </th>
              <th scope="col" data-align="end">
                {t("Mass")}
              </th>
              <th scope="col" data-align="end" className="max-sm:hidden">
                {t("Payload")}
              </th>
              <th scope="col" data-align="end" className="max-sm:hidden">
                {t("Volume")}
              </th>
              <th scope="col">{t("State")}</th>
            </tr>
          </thead>
          <tbody>
            {shown.map((l) => (
              <tr key={`${l.startOn} ${l.crewCode}`}>
                <th scope="row">{formatDate(l.startOn, "weekday", locale)}</th>
                <td>{l.crewCode}</td>
                <td data-align="end" className="max-sm:hidden">
                  {formatNumber(l.kits, 0, locale)}
                </td>
                <td data-align="end">
                  {formatQuantity(l.massKg, "kg", 0, locale)}
                  {/* On a phone mass and volume share a column: payload is in the state. */}
                  <small className="block sm:hidden">{formatQuantity(l.volumeL, "l", 0, locale)}</small>
                </td>
                <td data-align="end" className="max-sm:hidden">
                  {formatQuantity(l.payloadKg, "kg", 0, locale)}
                </td>
                <td data-align="end" className="max-sm:hidden">
                  {formatQuantity(l.volumeL, "l", 0, locale)}
                </td>
                <td className="max-sm:[&_.ui-mark]:whitespace-normal">
                  {l.massKg > l.payloadKg ? (
                    <StateMark state="fail">
                      {t("{{mass}} over payload", {
                        mass: formatQuantity(l.massKg - l.payloadKg, "kg", 0, locale),
                      })}
                    </StateMark>
                  ) : (
                    <StateMark state="met">{t("Below payload")}</StateMark>
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
      {rows.length > shown.length ? (
        <p className="px-4 py-2 text-quiet">
          {t("and {{count}} later crew days", { count: rows.length - shown.length })}
        </p>
      ) : null}
    </Panel>
  );
}
