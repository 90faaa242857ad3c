import type { Metadata } from "next";
import Link from "next/link";
import { homeToday } from "@/app/_server/clock";
import { ofSeenHops } from "@/app/_server/regions";
import { requireRoleInRegions } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatCount, formatDate, formatNumber, formatQuantity } from "@/app/_ui/format";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { Stat, StatRow } from "@/app/_ui/Stat";
import { StateMark } from "@/app/_ui/StateMark";
import { Tabs } from "@/app/_ui/Tabs";
import { database } from "@/db/open";
import { loadCrews } from "@/db/queries/crews";
import { type KitRow, type LoadRow, loadKitRows, vehicleLoads } from "@/db/queries/kits";
import { planInForce } from "@/db/queries/plans";
import { viewsOf } from "@/db/queries/savedViews";
import { addDays, type CalendarDate, weekdayOf } from "@/lib/time";
import { kitPath } from "../stock/words";
import { SavedViews } from "../views/SavedViews";
import { KitStateMark } from "./KitStateMark";

export const metadata: Metadata = { title: "Kits" };

interface KitsPageProps {
  searchParams: Promise<{ crew?: string; show?: string }>;
}

/** Kits by pick day: what to pick now, what is short, and whether the vehicle can carry it. */
export default async function KitsPage({ searchParams }: KitsPageProps) {
  const visitor = await requireRoleInRegions();
  const params = await searchParams;
  const db = database();
  const today = homeToday(db);
  const plan = planInForce(db);
  const isLead = visitor.role === "crew lead";
  const crew = isLead ? (visitor.crewId ?? "none") : params.crew;
  const all = plan ? ofSeenHops(db, visitor, loadKitRows(db, plan.id)) : [];
  if (!plan || all.length === 0) {
    return (
      <>
        <PageHead title="Kits" />
        <EmptyState
          title={plan ? "No kits in this plan" : "No plan in force yet"}
          actions={isLead ? undefined : <LinkButton href="/plan">Open the plan</LinkButton>}
        >
          Kits follow the plan in force: one for every install that is placed.{" "}
          {isLead ? "Ask the rollout manager." : ""}
        </EmptyState>
      </>
    );
  }
  const mine = crew ? all.filter((k) => k.crewCode === crew) : all;
  const show = params.show === "issued" ? "issued" : "open";
  const open = mine.filter((k) => k.state !== "issued");
  const issued = mine.filter((k) => k.state === "issued");
  const sunday = addDays(today, 7 - weekdayOf(today));
  const groups: { title: string; note: string; rows: KitRow[] }[] = [
    {
      title: "Today",
      note: "Pick day today or passed.",
      rows: open.filter((k) => k.pickOn <= today),
    },
    {
      title: "This week",
      note: `To Sunday ${formatDate(sunday, "day")}.`,
      rows: open.filter((k) => k.pickOn > today && k.pickOn <= sunday),
    },
    { title: "Later", note: "By pick day.", rows: open.filter((k) => k.pickOn > sunday) },
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
    if (next.show === "issued") q.set("show", "issued");
    return q.size > 0 ? `/kits?${q}` : "/kits";
  };
  return (
    <>
      <PageHead
        title={isLead ? `Kits of crew ${crew}` : "Kits"}
        lead={`By the plan in force, one working day before the visit. As of ${formatDate(today)}.`}
        actions={
          isLead ? undefined : (
            <>
              <LinkButton href="/stock/scan">Scan</LinkButton>
              <LinkButton href="/stock/labels?kind=kit">Labels</LinkButton>
              <LinkButton href="/stock">Stock</LinkButton>
            </>
          )
        }
      />
      <StatRow>
        <Stat
          label="To pick today"
          figure={formatCount(groups[0]!.rows.length, "kit")}
          limit={`${formatNumber(groups[0]!.rows.filter((k) => k.state === "picked").length)} begun`}
          tone={groups[0]!.rows.length > 0 ? "warn" : "good"}
        />
        <Stat label="This week" figure={formatCount(groups[1]!.rows.length, "kit")} limit="after today" />
        <Stat
          label="Kits with short lines"
          figure={formatNumber(short.length)}
          limit={short[0] ? `first picked ${formatDate(short[0].pickOn, "weekday")}` : "all covered"}
          tone={short.length > 0 ? "problem" : "good"}
        />
        <Stat
          label="Vehicles over payload"
          figure={formatCount(over.length, "day")}
          limit={over[0] ? `first ${over[0].crewCode} on ${formatDate(over[0].startOn, "weekday")}` : "none"}
          tone={over.length > 0 ? "problem" : "good"}
        />
        <Stat
          label="Issued"
          figure={formatNumber(issued.length)}
          limit="on the vehicles"
          href={href({ show: "issued" })}
        />
      </StatRow>
      {isLead ? null : (
        <nav aria-label="Crews" className="ui-no-print flex flex-wrap gap-x-4 gap-y-1 py-2">
          <Link href={href({ crew: undefined })} aria-current={crew ? undefined : "page"} className="py-1">
            All crews
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
        label="Kits by state"
        tabs={[
          {
            href: href({ show: "open" }),
            label: "To pick and issue",
            count: formatNumber(open.length),
            current: show === "open",
          },
          {
            href: href({ show: "issued" }),
            label: "Issued",
            count: formatNumber(issued.length),
            current: show === "issued",
          },
        ]}
      />
      <SavedViews list="kits" views={viewsOf(db, visitor.userId, "kits")} />
      <div className="grid grid-cols-1 gap-4">
        {show === "issued" ? (
          <Panel title="Issued" note="Unused material is returned on the kit's page." flush>
            {issued.length === 0 ? (
              <p className="px-4 py-3">No kit is out.</p>
            ) : (
              <KitTable
                label="Issued kits"
                rows={issued.slice(0, KITS_SHOWN)}
                more={issued.length - KITS_SHOWN}
                today={today}
              />
            )}
          </Panel>
        ) : (
          groups.map((g) => (
            <Panel
              key={g.title}
              title={`${g.title}: ${formatCount(g.rows.length, "kit")}`}
              note={g.note}
              flush
            >
              {g.rows.length === 0 ? (
                <p className="px-4 py-3">Nothing to pick.</p>
              ) : (
                <KitTable
                  label={`Kits ${g.title.toLowerCase()}`}
                  rows={g.rows.slice(0, KITS_SHOWN)}
                  more={g.rows.length - KITS_SHOWN}
                  today={today}
                />
              )}
            </Panel>
          ))
        )}
        <Loads rows={loads} />
      </div>
    </>
  );
}

/** Rows of one group that a page shows; those picked later come up as the days pass, or by crew. */
const KITS_SHOWN = 100;

function KitTable({
  label,
  rows,
  more,
  today,
}: {
  label: string;
  rows: readonly KitRow[];
  more: number;
  today: CalendarDate;
}) {
  return (
    <ScrollRegion label={label}>
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">Kit</th>
            <th scope="col">State</th>
            <th scope="col">Lines</th>
            <th scope="col">Pick</th>
            <th scope="col">At</th>
            <th scope="col">Crew, visit</th>
            <th scope="col">Site</th>
            <th scope="col" data-align="end">
              Mass
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((k) => (
            <tr key={k.visitId}>
              <th scope="row" data-label="Kit">
                <Link href={kitPath(k.visitId)}>
                  {k.hopCode} {k.side} end
                </Link>
              </th>
              <td data-label="State">
                <KitStateMark state={k.state} />
              </td>
              <td data-label="Lines">
                {k.state === "planned"
                  ? formatCount(k.lineCount, "line")
                  : `${formatNumber(k.pickedCount)} of ${formatCount(k.lineCount, "line")}`}{" "}
                {k.shortCount > 0 && k.state !== "issued" ? (
                  <StateMark state="short">{formatNumber(k.shortCount)} short</StateMark>
                ) : null}
              </td>
              <td data-label="Pick">
                {k.pickOn < today && k.state !== "issued" ? (
                  <StateMark state="late">{formatDate(k.pickOn, "weekday")}</StateMark>
                ) : (
                  formatDate(k.pickOn, "weekday")
                )}
              </td>
              <td data-label="At">{k.placeName}</td>
              <td data-label="Crew, visit">
                {k.crewCode ?? "no crew"}, {formatDate(k.startOn, "weekday")}
              </td>
              <td data-label="Site">
                {k.siteCode} {k.siteName}
              </td>
              <td data-label="Mass" data-align="end">
                {formatQuantity(k.massKg, "kg", 0)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {more > 0 ? (
        <p className="px-4 py-2">
          and {formatCount(more, "later kit")}: they move up as the days pass, or choose one crew above.
        </p>
      ) : null}
    </ScrollRegion>
  );
}

const LOADS_SHOWN = 15;

function Loads({ rows }: { rows: readonly LoadRow[] }) {
  if (rows.length === 0) return null;
  const shown = rows.slice(0, LOADS_SHOWN);
  return (
    <Panel
      title="What the vehicles carry"
      note="Kits of one crew and day together, against the vehicle's payload. People and tools come on top: the driver checks the load."
      flush
    >
      <ScrollRegion label="Load by crew and day">
        <table className="ui-facts">
          <thead>
            <tr>
              <th scope="col">Day</th>
              <th scope="col">Crew</th>
              <th scope="col" data-align="end">
                Kits
              </th>
              <th scope="col" data-align="end">
                Mass
              </th>
              <th scope="col" data-align="end">
                Payload
              </th>
              <th scope="col" data-align="end">
                Volume
              </th>
              <th scope="col">State</th>
            </tr>
          </thead>
          <tbody>
            {shown.map((l) => (
              <tr key={`${l.startOn} ${l.crewCode}`}>
                <th scope="row">{formatDate(l.startOn, "weekday")}</th>
                <td>{l.crewCode}</td>
                <td data-align="end">{formatNumber(l.kits)}</td>
                <td data-align="end">{formatQuantity(l.massKg, "kg", 0)}</td>
                <td data-align="end">{formatQuantity(l.payloadKg, "kg", 0)}</td>
                <td data-align="end">{formatQuantity(l.volumeL, "l", 0)}</td>
                <td>
                  {l.massKg > l.payloadKg ? (
                    <StateMark state="fail">
                      {formatQuantity(l.massKg - l.payloadKg, "kg", 0)} over payload
                    </StateMark>
                  ) : (
                    <StateMark state="met">Below payload</StateMark>
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
      {rows.length > shown.length ? (
        <p className="px-4 py-2 text-quiet">
          and {formatCount(rows.length - shown.length, "later crew day")}
        </p>
      ) : null}
    </Panel>
  );
}
