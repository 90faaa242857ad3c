import type { Metadata } from "next";
import Link from "next/link";
import { homeToday, homeZone } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { editName, editPhrase, frozenUntil, notesOf } from "@/app/_server/planEdits";
import { ofSeenEdits, ofSeenHops, seesHop } from "@/app/_server/regions";
import { requireRoleInRegions } from "@/app/_server/session";
import { DownloadButton, LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatDate, formatInstant, formatNumber } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import type { Zoom } from "@/app/_ui/PlanBoard";
import { Stat, StatRow } from "@/app/_ui/Stat";
import { StateMark } from "@/app/_ui/StateMark";
import { type Tab, Tabs } from "@/app/_ui/Tabs";
import { remembered } from "@/db/dataState";
import { database } from "@/db/open";
import { loadDataSince } from "@/db/queries/dataSince";
import { editEnds, type PlanEditRow, standingEdits, wasMovedByHand } from "@/db/queries/planEdits";
import { loadPlan, type PlanHead } from "@/db/queries/plans";
import {
  BOARD_GROUPS,
  loadBoard,
  loadInForceEffect,
  loadPlanChoices,
  planCounts,
} from "@/db/queries/planViews";
import { rulesInForce } from "@/db/queries/programme";
import { viewsOf } from "@/db/queries/savedViews";
import { daysBetween } from "@/lib/time";
import { SavedViews } from "../views/SavedViews";
import { isBoardFilter } from "./boardFilter";
import { boardCrewsJson, boardDayHours, boardVisitsJson } from "./boardRows";
import { CostTable } from "./CostTable";
import { DataSinceNotice } from "./DataSinceNotice";
import { DraftNotice } from "./DraftNotice";
import { PlanDesk } from "./PlanDesk";
import { Unplaced } from "./Unplaced";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Plan") };
}

const ZOOMS: readonly Zoom[] = ["day", "week", "4 weeks", "12 weeks"];

interface Search {
  plan?: string;
  zoom?: string;
  visit?: string;
  crew?: string;
  show?: string;
}

export default async function PlanPage({ searchParams }: { searchParams: Promise<Search> }) {
  const words = await serverWords();
  const { t, locale } = words;
  const visitor = await requireRoleInRegions("administrator", "manager", "logistics", "crew lead");
  const search = await searchParams;
  const db = database();
  const today = homeToday(db);
  const choices = loadPlanChoices(db);
  const seesAll = visitor.regions === null;
  const isPlanner = visitor.role === "administrator" || visitor.role === "manager";
  // Who sees a part of the plan moves what lies there, and does not decide on all of it.
  const mayDecide = isPlanner && seesAll;
  const plan = search.plan ? loadPlan(db, Number(search.plan)) : (choices.inForce ?? choices.drafts[0]);
  if (!plan) {
    return (
      <>
        <PageHead title={t("Plan")} />
        {search.plan ? (
          <EmptyState
            title={t("There is no plan {{plan}}", { plan: search.plan })}
            actions={<LinkButton href="/plan">{t("Open the plan in force")}</LinkButton>}
          >
            {t("A draft that was discarded is gone.")}
          </EmptyState>
        ) : (
          <EmptyState
            title={t("No plan yet")}
            actions={
              mayDecide ? (
                <LinkButton kind="primary" href="/plan/solve">
                  {t("Make the first plan")}
                </LinkButton>
              ) : undefined
            }
          >
            {mayDecide
              ? t("Bring in sites, hops and crews, then let the first plan be made.")
              : t("A manager makes the first plan; it appears here when it is in force.")}
          </EmptyState>
        )}
      </>
    );
  }
  const whole = loadBoard(db, plan, today);
  const board = seesAll ? whole : { ...whole, visits: [...ofSeenHops(db, visitor, whole.visits)] };
  const { counts, crewsJson, visitsJson } = remembered(
    db,
    `board desk ${plan.id} ${today} ${JSON.stringify(visitor.regions)} ${words.language}`,
    BOARD_GROUPS,
    () => ({
      counts: planCounts(db, plan.id, today, board.visits, (hop) => seesHop(db, visitor, hop)),
      crewsJson: boardCrewsJson(board, words),
      visitsJson: boardVisitsJson(board, words),
    }),
  );
  const frozen = frozenUntil(plan);
  const todayDay = daysBetween(plan.firstDay, today);
  const notes = notesOf(plan);
  const mayEdit = isPlanner && plan.state !== "past";
  const ends = mayEdit ? editEnds(db, plan.id, visitor.userId) : {};
  return (
    <>
      <PageHead
        title={t("Plan")}
        marks={
          <StateMark boxed state={STATE_MARK[plan.state]}>
            {t("Plan {{plan}}, {{state}}", { plan: String(plan.id), state: t(plan.state) })}
          </StateMark>
        }
        lead={t(
          "Who is where when. {{count}} weeks from {{day}}, made by {{name}} on {{when}} by the office's clock. Times of visits are the sites' own.",
          {
            count: Math.round(plan.dayCount / 7),
            day: formatDate(plan.firstDay, "full", locale),
            name: plan.createdBy,
            when: formatInstant(plan.createdAt, homeZone(db), locale),
          },
        )}
        actions={
          <>
            {mayDecide ? (
              <LinkButton kind="primary" href="/plan/solve">
                {t("Solve anew")}
              </LinkButton>
            ) : null}
            <LinkButton href={`/plan/list?plan=${plan.id}`}>{t("List to print")}</LinkButton>
            {visitor.role === "crew lead" ? null : (
              <DownloadButton href={`/plan/export?plan=${plan.id}`}>{t("Export CSV")}</DownloadButton>
            )}
          </>
        }
      />
      <Tabs
        label={t("Plans")}
        tabs={planTabs(choices, plan, words)}
        beside={<SavedViews list="plan" views={viewsOf(db, visitor.userId, "plan")} />}
      />
      <div className="grid grid-cols-[minmax(0,1fr)] gap-4">
        {plan.state === "draft" ? (
          <DraftNotice
            planId={plan.id}
            revision={plan.revision}
            inForceId={choices.inForce?.id ?? null}
            edits={ofSeenEdits(db, visitor, standingEdits(db, plan.id)).map((e) => ({
              no: e.editNo,
              sentence: editPhrase(e),
              visits: e.changes.length,
              broken: e.broken.length,
            }))}
            mayDecide={mayDecide}
            effect={loadInForceEffect(db, plan.id, choices.inForce?.id, today)}
          />
        ) : null}
        {plan.state === "past" ? null : (
          <DataSinceNotice
            db={db}
            changes={loadDataSince(db, plan)}
            madeFrom={otherBase(plan, choices.inForce?.id ?? null)}
            maySolve={mayDecide}
          />
        )}
        <StatRow>
          <Stat
            label={t("Placed")}
            figure={formatNumber(counts.placed, 0, locale)}
            limit={
              counts.done > 0
                ? t("of {{count}} visits, {{done}} done", {
                    count: counts.visits,
                    done: formatNumber(counts.done, 0, locale),
                  })
                : t("of {{count}} visits", { count: counts.visits })
            }
          />
          <Stat
            label={t("Not placed")}
            figure={formatNumber(counts.unplaced, 0, locale)}
            tone={counts.unplaced > 0 ? "warn" : "plain"}
            limit={counts.unplaced > 0 ? t("each with the rule that stops it") : t("every visit has a place")}
            href={counts.unplaced > 0 ? "#not-placed" : undefined}
          />
          <Stat
            label={t("Hops late by this plan")}
            figure={formatNumber(counts.lateHops, 0, locale)}
            limit={counts.lateHops > 0 ? t("{{count}} days in all", { count: counts.lateDays }) : t("none")}
            tone={counts.lateHops > 0 ? "problem" : "plain"}
          />
          {seesAll ? (
            <>
              <Stat
                label={t("Crew days")}
                figure={formatNumber(plan.cost.crewDays, 0, locale)}
                limit={t("days out, for what was open when it was made")}
              />
              <Stat label={t("Road")} figure={formatNumber(plan.cost.travelKm, 0, locale)} unit={t("km")} />
            </>
          ) : null}
          <Stat
            label={t("Items that run out")}
            figure={formatNumber(counts.runOut, 0, locale)}
            tone={counts.runOut > 0 ? "warn" : "plain"}
            limit={t("without new orders")}
            href="/stock"
          />
        </StatRow>
        <PlanDesk
          key={plan.id}
          planId={plan.id}
          revision={plan.revision}
          state={plan.state}
          firstDay={plan.firstDay}
          dayCount={plan.dayCount}
          todayDay={todayDay >= 0 && todayDay < plan.dayCount ? todayDay : undefined}
          frozenUntilDay={Math.max(todayDay, frozen ? daysBetween(plan.firstDay, frozen) : 0)}
          crewsJson={crewsJson}
          visitsJson={visitsJson}
          dayHours={boardDayHours(board, words)}
          zoom={ZOOMS.find((z) => z === search.zoom) ?? "week"}
          visitId={search.visit}
          crewId={search.crew}
          mayEdit={mayEdit}
          undo={namedEnd(plan, ends.undo)}
          redo={namedEnd(plan, ends.redo)}
          filter={isBoardFilter(search.show) ? search.show : undefined}
        />
        <div className="ui-below grid gap-4 xl:grid-cols-2">
          {seesAll ? (
            <CostTable
              plan={plan}
              weights={rulesInForce(db).weights}
              isMovedByHand={wasMovedByHand(db, plan.id)}
              settledHow={notes.settled?.how}
            />
          ) : null}
          {counts.unplaced > 0 ? (
            <Unplaced visits={board.visits.filter((v) => v.crewCode === null && v.doneOn === undefined)} />
          ) : (
            <Panel title={t("Not placed")} id="not-placed">
              <p>{t("Every visit of this plan has a crew and a day.")}</p>
            </Panel>
          )}
        </div>
        {plan.state === "past" ? (
          <p>
            {t("This plan is past.")} <Link href="/plan">{t("Open the plan in force")}</Link>.
          </p>
        ) : null}
      </div>
    </>
  );
}

/** An edit that can be undone or done again in this plan: moves in drafts only. */
function namedEnd(plan: PlanHead, edit: PlanEditRow | undefined) {
  if (!edit || (edit.kind === "move" && plan.state !== "draft")) return undefined;
  return { editNo: edit.editNo, name: editName(edit) };
}

/** The plan that a draft was made from, when it is no longer the one in force. */
function otherBase(plan: PlanHead, inForceId: number | null) {
  const { replaces } = notesOf(plan);
  if (plan.state !== "draft" || replaces === undefined || replaces === inForceId) return undefined;
  return { planId: replaces, inForceId };
}

const STATE_MARK = { "in force": "met", draft: "planned", past: "none" } as const;

function planTabs(choices: ReturnType<typeof loadPlanChoices>, shown: PlanHead, { t }: Words): Tab[] {
  const heads = [
    ...(choices.inForce ? [choices.inForce] : []),
    ...choices.drafts,
    ...choices.past.filter((p) => p.id === shown.id || choices.past.indexOf(p) < 2),
  ];
  if (!heads.some((p) => p.id === shown.id)) heads.push(shown);
  return heads.map((p) => ({
    href: p.state === "in force" ? "/plan" : `/plan?plan=${p.id}`,
    label:
      p.state === "in force"
        ? t("In force (plan {{plan}})", { plan: String(p.id) })
        : p.state === "draft"
          ? t("Draft {{plan}}", { plan: String(p.id) })
          : t("Past plan {{plan}}", { plan: String(p.id) }),
    current: p.id === shown.id,
  }));
}
