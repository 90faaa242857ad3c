import type { Metadata } from "next";
import Link from "next/link";
import { homeToday, homeZone } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { ofSeenHops, seesHop, seesSite } from "@/app/_server/regions";
import { requireRoleInRegions } from "@/app/_server/session";
import { Button, LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import { Select, TextInput } from "@/app/_ui/Field";
import { formatInstant, formatQuantity } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import { Notice } from "@/app/_ui/Notice";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { Tag } from "@/app/_ui/StateMark";
import { Tabs } from "@/app/_ui/Tabs";
import { WeatherDays } from "@/app/_ui/WeatherDays";
import { CLASS_WORDS } from "@/app/_ui/weather/factors";
import { remembered } from "@/db/dataState";
import { database } from "@/db/open";
import { loadVisitPaces } from "@/db/queries/actuals";
import { loadCrews } from "@/db/queries/crews";
import { groupBy } from "@/db/queries/design";
import { holdsOf } from "@/db/queries/holds";
import { planInForce } from "@/db/queries/plans";
import { rulesInForce } from "@/db/queries/programme";
import { doneVisits } from "@/db/queries/reports";
import {
  earlierForecasts,
  loadForecastVisits,
  loadPlaceForecasts,
  loadSiteWork,
  type PlaceForecast,
  type SiteWork,
} from "@/db/queries/weatherViews";
import { commonShift } from "@/lib/programme";
import { addDays } from "@/lib/time";
import { type ShiftWeek, type WeatherSeries, WORK_CLASSES, type WorkClass } from "@/lib/weather";
import { sitePath } from "../hops/hopStates";
import { ClimateTable } from "./ClimateTable";
import { placeClimate } from "./climate";
import { FindingTable } from "./FindingTable";
import { planAgainstForecast, withChange } from "./planAgainstForecast";
import {
  dayTextWords,
  expectedDay,
  ForecastReader,
  isBeyond,
  noWeather,
  placeOf,
  profileOf,
  shiftAtSite,
} from "./siteHours";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Weather") };
}

const DAYS = 10;
const FORECAST_GROUPS = ["design", "plan", "crews", "reports", "weather", "rules"] as const;
const ROWS_A_PAGE = 60;
const CLIMATE_PLACES = 40;
const HEIGHTS_M = [10, 20, 40, 60, 80, 120];

interface WeatherPageProps {
  searchParams: Promise<
    Partial<Record<"tab" | "class" | "region" | "show" | "q" | "page" | "height", string>>
  >;
}

export default async function WeatherPage({ searchParams }: WeatherPageProps) {
  const words = await serverWords();
  const { t } = words;
  const visitor = await requireRoleInRegions();
  const params = await searchParams;
  const db = database();
  const today = homeToday(db);
  const places = loadPlaceForecasts(db);
  const allWork = loadSiteWork(db);
  const work = allWork.filter(({ site }) => seesSite(db, visitor, site.code));
  if (places.length === 0 || work.length === 0) {
    return (
      <>
        <PageHead title={t("Weather")} />
        <EmptyState
          title={work.length === 0 ? t("No sites yet") : t("No weather yet")}
          actions={<LinkButton href="/import">{t("Bring in")}</LinkButton>}
        >
          {work.length === 0
            ? t("Bring in the sites first; their weather is read from the places near them.")
            : t(
                "Bring in a forecast and past years for places near the sites. Until then every site is planned with a careful allowance, never as always fine.",
              )}
        </EmptyState>
      </>
    );
  }
  const tab = params.tab === "plan" || params.tab === "climate" ? params.tab : "days";
  const workClass = WORK_CLASSES.find((c) => c === params.class) ?? "aloft";
  const days = Array.from({ length: DAYS }, (_, d) => addDays(today, d));
  const { shift, reader, ...all } = remembered(db, `forecast ${today}`, FORECAST_GROUPS, () => {
    const crews = loadCrews(db);
    const done = doneVisits(db);
    const plan = planInForce(db);
    const holds = plan && holdsOf(db, plan);
    const paceOf = loadVisitPaces(db, today);
    // A visit under way began before today.
    const planned = loadForecastVisits(db, addDays(today, -DAYS), days.at(-1)!)
      .filter((v) => v.endOn >= today && !done.has(v.visitId))
      .map((v) => ({
        ...v,
        pace: paceOf(v.crewCode, v.hopCode),
        onHold: holds?.get(v.visitId)?.reason,
        isUnderWay: v.startOn < today,
      }));
    const forecast = new ForecastReader(rulesInForce(db).weatherPolicy);
    const bySite = new Map(allWork.map((w) => [w.site.code, w]));
    const byCrew = new Map(crews.map((c) => [c.code, c]));
    const against = (of: readonly PlaceForecast[]) =>
      planAgainstForecast(planned, bySite, of, byCrew, forecast);
    const earlier = plan ? earlierForecasts(db, plan.createdAt) : new Map<string, WeatherSeries>();
    const asThen = places.map((p) => ({ ...p, forecast: earlier.get(p.code) ?? p.forecast, members: [] }));
    const now = against(places);
    return {
      shift: commonShift(crews),
      reader: forecast,
      visits: planned,
      findings: earlier.size > 0 ? withChange(now, against(asThen)) : now,
    };
  });
  const visits = ofSeenHops(db, visitor, all.visits);
  const findings = all.findings.filter(({ visit }) => seesHop(db, visitor, visit.hopCode));
  const lost = findings.filter((f) => f.state === "lost");
  const sincePlan = {
    isNewer: findings.some((f) => f.sincePlan !== undefined),
    lost: findings.filter((f) => f.sincePlan === "lost").length,
    openAgain: findings.filter((f) => f.sincePlan === "open again").length,
  };
  const unchecked = findings.filter((f) => f.state === "not checked");
  const onHold = findings.filter((f) => f.state === "on hold");
  const source = sourceWords(places, homeZone(db), words);
  const href = (change: Record<string, string>) =>
    `/weather?${new URLSearchParams({ ...params, ...change })}`;

  return (
    <>
      <PageHead
        title={t("Weather")}
        lead={t(
          "Hours of the shift within the planning limits, at each site's highest mount. The crew on site decides.",
        )}
        marks={
          places.some((p) => p.forecast?.isMadeUp) ? <Tag tone="warn">{t("Made-up weather")}</Tag> : undefined
        }
      />
      <div className="mb-4">
        <PlanNotice
          lost={lost.length}
          unchecked={unchecked.length}
          onHold={onHold.length}
          all={findings.length - onHold.length}
          sincePlan={sincePlan}
        />
      </div>
      <Tabs
        label={t("Views of the weather")}
        tabs={[
          { href: href({ tab: "days" }), label: t("Next ten days"), current: tab === "days" },
          {
            href: href({ tab: "plan" }),
            label: t("Plan against forecast"),
            count: lost.length,
            current: tab === "plan",
          },
          { href: href({ tab: "climate" }), label: t("Climate beyond"), current: tab === "climate" },
        ]}
      />
      {tab === "plan" ? (
        <Panel
          title={t("Planned visits of the next ten days")}
          note={t(
            "Each visit is begun at its planned minute and run through the forecast's hours inside its crew's shifts, overtime and the site's access.",
          )}
          foot={`${source}.`}
          flush
        >
          {findings.length === 0 ? (
            <p className="px-4 py-3">
              {t("The plan in force has no visit in these days.")}{" "}
              <Link href="/plan">{t("Open the plan")}</Link>.
            </p>
          ) : (
            <FindingTable findings={findings} />
          )}
        </Panel>
      ) : (
        <ClassTabs workClass={workClass} href={href} />
      )}
      {tab === "days" ? (
        <DayMatrix
          {...{ params, work, places, days, shift, workClass, reader, source, href }}
          planned={new Set(visits.map((v) => v.siteCode))}
          ownCrew={visitor.role === "crew lead" ? (visitor.crewId ?? undefined) : undefined}
          ofOwnCrew={new Set(visits.filter((v) => v.crewCode === visitor.crewId).map((v) => v.siteCode))}
        />
      ) : null}
      {tab === "climate" ? (
        <Climate
          {...{ params, places, workClass, shift, href }}
          zone={homeZone(db)}
          month={Number(today.slice(5, 7)) - 1}
        />
      ) : null}
    </>
  );
}

type Params = Awaited<WeatherPageProps["searchParams"]>;
type Href = (change: Record<string, string>) => string;

interface PlanNoticeProps {
  lost: number;
  unchecked: number;
  onHold: number;
  all: number;
  sincePlan: { isNewer: boolean; lost: number; openAgain: number };
}

async function PlanNotice({ lost, unchecked, onHold, all, sincePlan }: PlanNoticeProps) {
  const { t } = await serverWords();
  if (all + onHold === 0) return null;
  const windows = (count: number) => t("{{count}} windows", { count });
  const change = !sincePlan.isNewer
    ? t("The plan was made with this forecast.")
    : sincePlan.lost + sincePlan.openAgain === 0
      ? t("A newer forecast than the plan's changes none of them.")
      : t("Since the plan was made a newer forecast took {{lost}} away and opened {{again}} again.", {
          lost: windows(sincePlan.lost),
          again: windows(sincePlan.openAgain),
        });
  const rest = [
    change,
    unchecked > 0
      ? t("{{count}} visits could not be checked: no weather or estimate, or under way.", {
          count: unchecked,
        })
      : "",
    onHold > 0 ? t("{{count}} visits are on hold and not counted.", { count: onHold }) : "",
  ]
    .filter((sentence) => sentence !== "")
    .join(" ");
  if (lost === 0) {
    return (
      <Notice kind={unchecked > 0 ? "warn" : "good"} title={t("The forecast leaves the plan as it is")}>
        {`${t("{{count}} planned visits of the next ten days can end on the planned day within the planning limits.", { count: all - unchecked })} ${rest}`}
      </Notice>
    );
  }
  return (
    <Notice
      kind="warn"
      title={t("{{count}} planned visits of {{all}} lost the window", { count: lost, all })}
      action={<Link href="/weather?tab=plan">{t("Which ones")}</Link>}
    >
      {`${t("By the forecast they end later than planned or not within ten days.")} ${rest}`}
    </Notice>
  );
}

async function ClassTabs({ workClass, href }: { workClass: WorkClass; href: Href }) {
  const { t } = await serverWords();
  return (
    <Tabs
      label={t("Work class")}
      tabs={WORK_CLASSES.map((c) => ({
        href: href({ class: c, page: "1" }),
        label: t(CLASS_WORDS[c]),
        current: c === workClass,
      }))}
    />
  );
}

/** A crew lead begins with the own crew's sites; where nothing is planned, with all. */
function shownSites(asked: string | undefined, planned: number, own: number): "mine" | "planned" | "all" {
  if (asked === "all" || planned === 0) return "all";
  if (own > 0 && asked !== "planned") return "mine";
  return "planned";
}

interface MatrixProps {
  params: Params;
  work: readonly SiteWork[];
  places: readonly PlaceForecast[];
  planned: ReadonlySet<string>;
  /** Of a crew lead: the crew, and the sites that it goes to in these days. */
  ownCrew?: string;
  ofOwnCrew: ReadonlySet<string>;
  days: ReturnType<typeof addDays>[];
  shift: ShiftWeek;
  workClass: WorkClass;
  reader: ForecastReader;
  source: string;
  href: Href;
}

async function DayMatrix(props: MatrixProps) {
  const words = await serverWords();
  const { t, say, locale } = words;
  const { params, work, places, planned, days, shift, workClass, reader, source, href } = props;
  const { ownCrew, ofOwnCrew } = props;
  const show = shownSites(params.show, planned.size, ownCrew === undefined ? 0 : ofOwnCrew.size);
  const query = (params.q ?? "").trim().toLowerCase();
  // A site may have been brought in without a region: it is found under all of them.
  const regions = [...new Set(work.map((w) => w.site.region))].filter((region) => region !== "").sort();
  const shown = work.filter(
    ({ site }) =>
      (!params.region || site.region === params.region) &&
      (show === "all" || (show === "mine" ? ofOwnCrew : planned).has(site.code)) &&
      (query === "" || `${site.code} ${site.name}`.toLowerCase().includes(query)),
  );
  const monthShare = (place: PlaceForecast, zone: string, heightM: number, day: string): number => {
    const { forecast: _, ...row } = place;
    const heightStep = HEIGHTS_M.find((h) => h >= heightM) ?? HEIGHTS_M.at(-1)!;
    const table = placeClimate(database(), row, zone, heightStep, reader.policy, shift);
    return table?.share[WORK_CLASSES.indexOf(workClass) * 12 + Number(day.slice(5, 7)) - 1] ?? Number.NaN;
  };
  const pages = Math.max(1, Math.ceil(shown.length / ROWS_A_PAGE));
  const page = Math.min(pages, Math.max(1, Number(params.page) || 1));
  const rows = shown.slice((page - 1) * ROWS_A_PAGE, page * ROWS_A_PAGE).map((w) => {
    const place = placeOf(w.site, places, reader.policy)?.place;
    const openShift = shiftAtSite(shift, w.site.access);
    const row = { id: w.site.code, label: w.site.code, href: `${sitePath(w.site.code)}?tab=weather` };
    if (!place?.forecast) {
      const why = place
        ? t("{{place}} has no forecast", { place: place.name })
        : say(noWeather(w.site, reader.policy));
      return { ...row, note: `${w.site.name}: ${why}`, days: days.map((day) => unknownDay(day, why)) };
    }
    const profile = profileOf(w, place);
    const near = reader.days(place.forecast, profile, workClass, days, openShift);
    const expected = near.map((day, d) =>
      isBeyond(day)
        ? expectedDay(
            profile,
            reader.policy,
            workClass,
            days[d]!,
            openShift,
            monthShare(place, w.site.zone, profile.heightM, days[d]!),
          )
        : day,
    );
    return {
      ...row,
      note: `${w.site.name}, ${formatQuantity(profile.heightM, "m", 0, locale)}`,
      days: expected.map((day) => day && { ...day, text: dayTextWords(day.text, words) }),
    };
  });
  return (
    <Panel
      title={t("{{work}}: hours of the shift within the limits", { work: t(CLASS_WORDS[workClass]) })}
      note={
        show === "mine"
          ? t(
              "{{count}} sites shown, those of your crew in these days. Hours are those of the site's own clock, inside the crews' shift and the owner's access.",
              { count: shown.length },
            )
          : show === "planned"
            ? t(
                "{{count}} sites shown, with a visit planned in these days. Hours are those of the site's own clock, inside the crews' shift and the owner's access.",
                { count: shown.length },
              )
            : t(
                "{{count}} sites shown. Hours are those of the site's own clock, inside the crews' shift and the owner's access.",
                { count: shown.length },
              )
      }
    >
      <form method="get" action="/weather" className="ui-no-print mb-4 flex flex-wrap items-end gap-3">
        <input type="hidden" name="tab" value="days" />
        <input type="hidden" name="class" value={workClass} />
        <Select
          label={t("Region")}
          name="region"
          defaultValue={params.region ?? ""}
          empty={t("All regions")}
          choices={regions.map((r) => ({ value: r, label: r }))}
        />
        <Select
          label={t("Sites")}
          name="show"
          defaultValue={show}
          choices={[
            ...(ownCrew === undefined
              ? []
              : [{ value: "mine", label: t("My crew's, with a visit planned") }]),
            { value: "planned", label: t("With a visit planned") },
            { value: "all", label: t("All sites") },
          ]}
        />
        <TextInput label={t("Code or name")} name="q" defaultValue={params.q ?? ""} />
        <Button type="submit">{t("Show")}</Button>
      </form>
      {rows.length === 0 ? (
        <p>
          {t("No site passes this choice.")}{" "}
          <Link href={href({ show: "all", region: "", q: "" })}>{t("Show all sites")}</Link>.
        </p>
      ) : (
        <WeatherDays
          label={t("{{work}}, next ten days", { work: t(CLASS_WORDS[workClass]) })}
          days={days}
          rows={rows}
          source={source}
        />
      )}
      {pages > 1 ? (
        <nav aria-label={t("Pages of sites")} className="ui-no-print mt-3 flex gap-4">
          {page > 1 ? <Link href={href({ page: String(page - 1) })}>{t("Earlier sites")}</Link> : null}
          <span>{t("Page {{page}} of {{pages}}", { page, pages })}</span>
          {page < pages ? <Link href={href({ page: String(page + 1) })}>{t("Further sites")}</Link> : null}
        </nav>
      ) : null}
    </Panel>
  );
}

/** A day of which nothing is known: never shown as fine. */
function unknownDay(_day: string, why: string) {
  return { metH: 0, ofH: 0, factor: "no data" as const, text: why };
}

interface ClimateProps {
  params: Params;
  places: readonly PlaceForecast[];
  workClass: WorkClass;
  shift: ShiftWeek;
  zone: string;
  month: number;
  href: Href;
}

async function Climate({ params, places, workClass, shift, zone, month, href }: ClimateProps) {
  const { t } = await serverWords();
  const db = database();
  const policy = rulesInForce(db).weatherPolicy;
  const heightM = HEIGHTS_M.find((h) => h === Number(params.height)) ?? 40;
  const c = WORK_CLASSES.indexOf(workClass);
  const rows = places.slice(0, CLIMATE_PLACES).map((place) => {
    const { forecast: _, ...row } = place;
    const table = placeClimate(db, row, zone, heightM, policy, shift);
    return {
      code: place.code,
      name: place.name,
      shares: table && Array.from(table.share.slice(c * 12, c * 12 + 12)),
    };
  });
  return (
    <Panel
      title={t("{{work}} at {{height}} m, month by month", {
        work: t(CLASS_WORDS[workClass]),
        height: heightM,
      })}
      note={t(
        "Share of the daylight hours inside the shift that met the limits in past years, over open country. It leaves out how long bad weather lasts: the plan uses the past years themselves.",
      )}
      foot={
        places.length > CLIMATE_PLACES
          ? t(
              "Past years as brought in; the first {{most}} places of {{all}}. Limits of policy version {{version}}.",
              {
                most: CLIMATE_PLACES,
                all: places.length,
                version: String(policy.version),
              },
            )
          : t("Past years as brought in. Limits of policy version {{version}}.", {
              version: String(policy.version),
            })
      }
      flush
    >
      <p className="ui-no-print flex flex-wrap gap-4 px-4 pt-3">
        {t("Height:")}
        {HEIGHTS_M.map((h) => (
          <Link
            key={h}
            href={href({ height: String(h) })}
            aria-current={h === heightM ? "true" : undefined}
            className={h === heightM ? "font-bold" : undefined}
          >
            {h} m
          </Link>
        ))}
      </p>
      <ClimateTable rows={rows} thisMonth={month} />
    </Panel>
  );
}

/** Of several times of issue, the newest; the hours of each place say their own. */
const MOST_ISSUES_NAMED = 3;

function sourceWords(places: readonly PlaceForecast[], zone: string, { t, locale }: Words): string {
  const known = places.flatMap((p) => p.forecast ?? []);
  if (known.length === 0) return t("No forecast has been brought in");
  // Files come at times of their own: one time for all would be untrue of the others.
  const byIssue = groupBy(known, (f) => String(f.issuedAtMillis));
  const issues = [...byIssue]
    .sort(([a], [b]) => Number(b) - Number(a))
    .slice(0, MOST_ISSUES_NAMED)
    .map(([, of]) =>
      t("{{sources}}, issued {{when}}", {
        sources: [...new Set(of.map((f) => (f.isMadeUp ? t(f.source) : f.source)))].slice(0, 3).join(", "),
        when: formatInstant(of[0]!.issuedAtMillis, zone, locale),
      }),
    )
    .join("; ");
  return known.some((f) => f.isMadeUp)
    ? t("Forecast: {{issues}}. Made-up weather", { issues })
    : t("Forecast: {{issues}}", { issues });
}
