import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { Suspense } from "react";
import { homeToday, homeZone } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { seesHop } from "@/app/_server/regions";
import { refuseRegion, requireRoleInRegions } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatDate, formatHours, formatNumber } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import { Notice } from "@/app/_ui/Notice";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { Stat, StatRow } from "@/app/_ui/Stat";
import { StateMark, Tag } from "@/app/_ui/StateMark";
import { Tabs } from "@/app/_ui/Tabs";
import { type Saved, SavedHop, savedOf } from "@/app/(work)/add/SavedNotice";
import { PhotoGrid } from "@/app/(work)/photos/PhotoGrid";
import { causeKey, PromiseCauseText } from "@/app/(work)/plan/PromiseCauseText";
import { whyWords } from "@/app/(work)/plan/why";
import { CheckList } from "@/app/(work)/sites/[code]/CheckList";
import { endsOfHop, openDesk } from "@/app/(work)/sites/[code]/desk";
import { VisitTable } from "@/app/(work)/sites/[code]/VisitTables";
import { database } from "@/db/open";
import { acceptanceOf, loadReadings, revisitsOfHop } from "@/db/queries/acceptance";
import { loadHop } from "@/db/queries/design";
import { loadEndEstimate } from "@/db/queries/estimates";
import { loadLog } from "@/db/queries/log";
import { photosOfHop } from "@/db/queries/photos";
import { loadProgrammeState } from "@/db/queries/progress";
import { loadPromiseCauses } from "@/db/queries/promiseCauses";
import { doneVisits } from "@/db/queries/reports";
import {
  type HopListRow,
  loadHopRows,
  loadReportsOfHops,
  loadVisitViews,
  type VisitView,
} from "@/db/queries/siteViews";
import { stillPlanned } from "@/lib/programme";
import { heldWords } from "../heldWords";
import { HOP_STATE, hopPath, isHeldByGate, sitePath } from "../hopStates";
import { AcceptanceTab } from "./AcceptanceTab";
import { AlignmentTab } from "./AlignmentTab";
import { BothEnds } from "./BothEnds";
import { EditableGates } from "./EditableGates";
import { GateTable } from "./GateTable";
import { AllHolds, HeldNotice } from "./HeldNotice";
import { RecordTab } from "./RecordTab";

const TABS = [
  { id: "overview", label: "Both ends" },
  { id: "alignment", label: "Alignment" },
  { id: "acceptance", label: "Acceptance" },
  { id: "record", label: "Record and log" },
] as const;
const LOG_ENTRIES = 50;

interface HopPageProps {
  params: Promise<{ code: string }>;
  searchParams: Promise<{ tab?: string; saved?: string }>;
}

export async function generateMetadata({ params }: HopPageProps): Promise<Metadata> {
  const { t } = await serverWords();
  return { title: t("Hop {{code}}", { code: decodeURIComponent((await params).code) }) };
}

export default async function HopPage({ params, searchParams }: HopPageProps) {
  const words = await serverWords();
  const { t } = words;
  const visitor = await requireRoleInRegions();
  const code = decodeURIComponent((await params).code);
  const db = database();
  const row = loadHopRows(db, homeToday(db), [code])[0];
  if (!row) notFound();
  if (!seesHop(db, visitor, code)) refuseRegion();
  const hop = loadHop(db, code);
  const asked = await searchParams;
  const mayImport = visitor.role !== "crew lead" && visitor.regions === null;
  const saved = mayImport ? savedOf(asked.saved) : undefined;
  if (!hop) return <OneEnded row={row} mayImport={mayImport} saved={saved} />;
  const tab = TABS.find(({ id }) => id === asked.tab) ?? TABS[0];
  const desk = openDesk(db, [hop]);
  const ends = endsOfHop(hop, desk);
  const visits = loadVisitViews(db, { hopCode: code });
  const held = heldWords(row, words);
  const mayChange = visitor.role === "manager" || visitor.role === "administrator";

  return (
    <>
      <HopHead row={row} mayImport={mayImport} />
      <Tabs
        label={t("Views of the hop")}
        tabs={TABS.map((one) => ({
          href: `${hopPath(code)}?tab=${one.id}`,
          label: t(one.label),
          current: one === tab,
        }))}
      />
      <div className="grid gap-4">
        {tab.id === "overview" ? (
          <>
            {saved ? <SavedHop code={code} saved={saved} failCount={row.failCount ?? 0} /> : null}
            <HopFigures
              row={row}
              isPartPlanned={stillPlanned(visits).length > 0}
              isOnHold={visits.some((v) => v.outcome === "hold")}
            />
            {row.heldBy && row.byPlan === "to accept" ? (
              <Notice kind="info" title={t("The work is done; the acceptance is not")}>
                {whyWords(row.heldBy, words)}.{" "}
                <Link href={`${hopPath(code)}?tab=acceptance`}>{t("Readings and revisits")}</Link>
              </Notice>
            ) : held && row.byPlan === "not planned" ? (
              <Notice kind="info" title={t("Not in the plan yet")}>
                {held}. {mayChange ? <Link href="/plan/solve">{t("Solve anew")}</Link> : null}
                <AllHolds row={row} gates={hop.gates} ends={ends} />
              </Notice>
            ) : row.heldBy ? (
              <HeldNotice row={row} gates={hop.gates} ends={ends} visits={visits} maySolve={mayChange} />
            ) : null}
            <WhyNotOnPromise row={row} />
            <Panel title={t("Both ends")} flush>
              <BothEnds
                ends={ends}
                hours={ends.map((e) => {
                  const kept = loadEndEstimate(db, e.end.id)?.estimate;
                  return kept && { meanMin: kept.durationMin, p80Min: kept.p80Min };
                })}
              />
            </Panel>
            <Panel title={t("Checks of both ends together")}>
              <CheckList checks={ends[0]!.hopTakeoff.checks} label={t("Checks of both ends together")} />
            </Panel>
            <Panel
              title={t("Gates")}
              note={t(
                "What must be met before work starts. A gate without a date keeps the hop out of any plan.",
              )}
              flush
            >
              {mayChange ? (
                <EditableGates hopCode={code} gates={hop.gates} />
              ) : (
                <GateTable gates={hop.gates} />
              )}
            </Panel>
            <Visits visits={visits} isAtOnce={hop.alignment === "both ends at once"} />
          </>
        ) : null}
        {tab.id === "alignment" ? (
          <Suspense
            fallback={
              <p role="status" style={{ minHeight: "70vh" }}>
                {t("Reading the forecast of both ends …")}
              </p>
            }
          >
            <AlignmentTab ends={ends} desk={desk} />
          </Suspense>
        ) : null}
        {tab.id === "acceptance" ? (
          <>
            <AcceptanceTab
              hopCode={code}
              isJoint={hop.alignment === "both ends at once"}
              acceptance={acceptanceOf(db, hop)}
              readings={loadReadings(db, [code])}
              revisits={revisitsOfHop(db, code)}
              done={new Set(doneVisits(db).keys())}
              visits={visits}
              today={homeToday(db)}
              zone={homeZone(db)}
              mayChange={mayChange}
            />
            <PhotoGrid
              db={db}
              visitor={visitor}
              photos={photosOfHop(db, code)}
              empty={t("No photo has come from this hop yet. Crews add them on a visit's page of My week.")}
            />
          </>
        ) : null}
        {tab.id === "record" ? (
          <RecordTab
            ends={ends}
            reports={loadReportsOfHops(db, [code])}
            log={loadLog(db, LOG_ENTRIES, `hop ${code}`)}
            zone={homeZone(db)}
          />
        ) : null}
      </div>
    </>
  );
}

async function HopHead({ row, mayImport }: { row: HopListRow; mayImport: boolean }) {
  const { t, locale } = await serverWords();
  const { state, word } = HOP_STATE[row.state];
  return (
    <PageHead
      title={row.code}
      lead={
        <>
          <EndLink code={row.nearSite} name={row.nearName} /> {t("to (a place)")}{" "}
          <EndLink code={row.farSite} name={row.farName} />
        </>
      }
      crumbs={[{ label: t("Sites and hops"), href: "/sites?tab=hops" }]}
      actions={
        mayImport ? (
          <LinkButton href={`${hopPath(row.code)}/change`}>{t("Change (verb)")}</LinkButton>
        ) : undefined
      }
      marks={
        <>
          <StateMark state={state} boxed>
            {t(word)}
          </StateMark>
          <Tag>{t(row.scheme)}</Tag>
          <Tag>{formatNumber(row.bandGhz, 1, locale)} GHz</Tag>
        </>
      }
    />
  );
}

async function EndLink({ code, name }: { code: string | null; name: string | null }) {
  const { t } = await serverWords();
  if (code === null) return <>{t("missing end")}</>;
  return (
    <Link href={sitePath(code)}>
      {code} {name}
    </Link>
  );
}

/** What makes a placed hop late or likely to be, and gates that any hop's plan does not know. */
async function WhyNotOnPromise({ row }: { row: HopListRow }) {
  const words = await serverWords();
  const { t } = words;
  const db = database();
  const today = homeToday(db);
  const { plan, hops } = loadProgrammeState(db, today);
  const progress = hops.filter((h) => h.hopCode === row.code);
  const causes = loadPromiseCauses(db, plan, progress, today).get(row.code) ?? [];
  if (causes.length === 0) return null;
  const title =
    row.state === "late"
      ? t("Why it is late")
      : row.state === "at risk"
        ? t("Why it is at risk")
        : t("The plan does not know its gates");
  return (
    <Notice kind="warn" title={title}>
      <ul>
        {causes.map((cause) => (
          <li key={causeKey(cause)}>
            <PromiseCauseText cause={cause} words={words} />
          </li>
        ))}
      </ul>
    </Notice>
  );
}

async function HopFigures({
  row,
  isPartPlanned,
  isOnHold,
}: {
  row: HopListRow;
  isPartPlanned: boolean;
  isOnHold: boolean;
}) {
  const words = await serverWords();
  const { t, locale } = words;
  const isLate = (row.daysLate ?? 0) > 0;
  const isByGate = isHeldByGate(row);
  return (
    <StatRow>
      <Stat
        label={t("Promised")}
        figure={formatDate(row.promisedOn, "day", locale)}
        limit={formatDate(row.promisedOn, "full", locale)}
      />
      {row.doneOn ? (
        <Stat
          label={t("Done")}
          figure={formatDate(row.doneOn, "day", locale)}
          limit={lateWords(row, words)}
          tone={isLate ? "problem" : "good"}
        />
      ) : row.byPlan === "to accept" ? (
        <Stat
          label={t("Work done")}
          figure={formatDate(row.plannedOn, "day", locale)}
          limit={isLate ? t("not accepted, {{late}}", { late: lateWords(row, words) }) : t("not accepted")}
          tone={isLate ? "problem" : "plain"}
        />
      ) : (
        <Stat
          label={isByGate ? t("Not before") : t("Planned")}
          figure={formatDate(isByGate ? row.gateOn : row.plannedOn, "day", locale)}
          limit={plannedNote(row, { isPartPlanned, isOnHold }, words)}
          tone={isLate ? "problem" : "plain"}
        />
      )}
      <Stat
        label="P80"
        figure={formatDate(row.p80On, "day", locale)}
        limit={t("not later in four runs of five")}
      />
      <Stat
        label={t("Length")}
        figure={formatNumber(row.lengthKm, 2, locale)}
        unit="km"
        limit={row.lengthKm === null ? t("a coordinate is missing") : undefined}
      />
      <Stat
        label={t("Work")}
        figure={formatHours(row.workMin, locale)}
        limit={t("installs, alignment and acceptance")}
      />
      <Stat
        label={t("IF cable")}
        figure={formatNumber(row.cableM, 1, locale)}
        unit="m"
        limit={t("both ends")}
      />
    </StatRow>
  );
}

/** What is to be known beside the day: why there is none, or another than planned; and how late it is. */
function plannedNote(
  row: HopListRow,
  { isPartPlanned, isOnHold }: { isPartPlanned: boolean; isOnHold: boolean },
  words: Words,
): string {
  const { t, locale } = words;
  const why =
    row.plannedOn === null
      ? isOnHold
        ? t("on hold until the next plan")
        : isPartPlanned
          ? t("only a part is in the plan in force")
          : t("not in the plan in force")
      : isHeldByGate(row)
        ? t("planned {{day}}, before its gate", { day: formatDate(row.plannedOn, "day", locale) })
        : null;
  const late = row.plannedOn !== null || row.daysLate !== null ? lateWords(row, words) : null;
  return [why, late].filter((part) => part !== null).join(", ");
}

const lateWords = (row: HopListRow, words: Words) =>
  row.daysLate === null ? words.t("no promise") : words.daysLate(row.daysLate);

async function Visits({ visits, isAtOnce }: { visits: readonly VisitView[]; isAtOnce: boolean }) {
  const { t } = await serverWords();
  return (
    <Panel
      title={t("Visits of the plan in force")}
      note={
        isAtOnce
          ? t("By the hop's procedure both ends are aligned in the same hours.")
          : t("By the hop's procedure the far end is aligned after the near end.")
      }
      flush
    >
      {visits.length > 0 ? (
        <VisitTable visits={visits} />
      ) : (
        <p className="px-4 py-3">
          {t("No visit of this hop is in the plan in force.")} <Link href="/plan">{t("Open the plan")}</Link>.
        </p>
      )}
    </Panel>
  );
}

/** A hop that lacks an end cannot be taken off: it is shown as what it is, a snag. */
async function OneEnded(props: { row: HopListRow; mayImport: boolean; saved: Saved | undefined }) {
  const { t } = await serverWords();
  const { row, mayImport, saved } = props;
  return (
    <>
      <HopHead row={row} mayImport={mayImport} />
      {saved ? <SavedHop code={row.code} saved={saved} failCount={0} /> : null}
      <EmptyState
        title={t("An end is missing")}
        actions={
          mayImport ? (
            <>
              <LinkButton href={`${hopPath(row.code)}/change`}>{t("Enter the missing end")}</LinkButton>
              <LinkButton href="/import">{t("Bring in design data")}</LinkButton>
            </>
          ) : undefined
        }
      >
        {row.nearSite
          ? t(
              "The design data has the near end only, so nothing can be taken off or planned. Bring in the missing end.",
            )
          : row.farSite
            ? t(
                "The design data has the far end only, so nothing can be taken off or planned. Bring in the missing end.",
              )
            : t(
                "The design data has no end only, so nothing can be taken off or planned. Bring in the missing end.",
              )}
      </EmptyState>
    </>
  );
}
