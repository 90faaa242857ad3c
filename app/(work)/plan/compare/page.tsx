import type { Metadata } from "next";
import Link from "next/link";
import { homeToday } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import {
  brokenRules,
  costsSideBySide,
  notesOf,
  openPlan,
  planBeside,
  timesNow,
} from "@/app/_server/planEdits";
import { requireRole } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatDate, formatNumber, NO_VALUE } from "@/app/_ui/format";
import { places, withParts } from "@/app/_ui/language/parts";
import type { Words } from "@/app/_ui/language/words";
import { Notice } from "@/app/_ui/Notice";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import { database } from "@/db/open";
import { loadPlans, loadPlanVisits, type PlanHead } from "@/db/queries/plans";
import {
  finishesOf,
  loadChangedVisits,
  loadInForceEffect,
  planCounts,
  shutGatesOf,
} from "@/db/queries/planViews";
import { itemsThatStop } from "@/db/queries/runsOut";
import { COST_LINES, type HopFinish, movedHops, shownChange, withoutLater } from "@/lib/programme";
import { DraftActions } from "../DraftActions";
import { brokenWords, type SaidBroken } from "../why";
import { ChangedPanel } from "./ChangedPanel";
import { GatesNotice } from "./GatesNotice";
import { Means } from "./Means";
import { More, ROWS_SHOWN } from "./More";
import { SurenessPanel } from "./SurenessPanel";
import { TimesNow } from "./TimesNow";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Compare plans") };
}

export default async function ComparePage({
  searchParams,
}: {
  searchParams: Promise<{ plan?: string; with?: string }>;
}) {
  const words = await serverWords();
  const { t, locale, daysLate } = words;
  await requireRole("administrator", "manager");
  const db = database();
  const asked = await searchParams;
  const planId = Number(asked.plan);
  const open = Number.isInteger(planId) ? openPlan(db, planId, homeToday(db)) : undefined;
  if (!open) {
    return (
      <>
        <PageHead title={t("Compare plans")} crumbs={[{ label: t("Plan"), href: "/plan" }]} />
        <EmptyState
          title={t("No such draft")}
          actions={<LinkButton href="/plan">{t("Open the plan in force")}</LinkButton>}
        >
          {t("It was discarded, or the address is wrong. Solve anew to get another.")}
        </EmptyState>
      </>
    );
  }
  const { head, rows } = open;
  const plans = loadPlans(db);
  const inForce = plans.find((p) => p.state === "in force");
  // What it can be set beside: the plan in force first, then the other drafts.
  const choices = [
    ...(inForce ? [inForce] : []),
    ...plans.filter((p) => p.state === "draft" || p.id === Number(asked.with)),
  ].filter((p, at, all) => p.id !== head.id && all.indexOf(p) === at);
  const other = choices.find((p) => p.id === Number(asked.with)) ?? choices.find((p) => p === inForce);
  const isWithInForce = other === inForce;
  const otherRows = other ? loadPlanVisits(db, other.id) : [];
  const today = homeToday(db);
  const changed = other ? loadChangedVisits(db, head.id, other.id, today) : [];
  const hops = other
    ? movedHops(
        finishesOf(db, other, withoutLater(otherRows, rows), today),
        finishesOf(db, head, withoutLater(rows, otherRows), today),
      )
    : [];
  const costs = costsSideBySide(open, other && planBeside(db, open, other));
  const counts = planCounts(db, head.id, today, rows);
  const otherCounts = other && planCounts(db, other.id, today, otherRows);
  const judged = brokenRules(open);
  const broken = brokenWords(judged.broken, words);
  const asBefore = brokenWords(judged.brokenBefore, words);
  const times =
    head.state === "draft" && judged.broken.some((b) => b.rule === "work") ? timesNow(open) : undefined;
  const { replaces } = notesOf(head);
  const isOutOfDate =
    isWithInForce && head.state === "draft" && replaces !== undefined && replaces !== (inForce?.id ?? null);
  const shortBefore = new Set(other ? itemsThatStop(db, other.id).map((n) => n.itemCode) : []);
  const short = itemsThatStop(db, head.id);
  const planWords = (id: number) => t("Plan {{plan}}", { plan: String(id) });
  const names = { before: other ? planWords(other.id) : t("In force"), after: planWords(head.id) };
  const fresh = short.filter((n) => !shortBefore.has(n.itemCode)).length;
  const gone = [...shortBefore].filter((code) => !short.some((n) => n.itemCode === code)).sort();
  return (
    <>
      <PageHead
        title={
          other
            ? t("Plan {{plan}} against plan {{other}}, {{state}}", {
                plan: String(head.id),
                other: String(other.id),
                state: t(other.state),
              })
            : t("Plan {{plan}}, {{state}}", { plan: String(head.id), state: t(head.state) })
        }
        crumbs={[
          { label: t("Plan"), href: "/plan" },
          { label: t("Plan {{plan}}", { plan: String(head.id) }), href: `/plan?plan=${head.id}` },
        ]}
        lead={
          other
            ? t("Both priced from today on with the data as they are now.")
            : t(
                "Priced from today on with the data as they are now. There is no other plan in force to compare with.",
              )
        }
        marks={
          <StateMark boxed state={broken.length > 0 ? "fail" : "pass"}>
            {broken.length > 0
              ? t("{{count}} hard rules broken", { count: broken.length })
              : asBefore.length > 0
                ? t("No further hard rule broken")
                : t("No hard rule broken")}
          </StateMark>
        }
      />
      <div className="grid grid-cols-[minmax(0,1fr)] gap-4">
        {isOutOfDate ? (
          <Notice kind="warn" title={t("The plan in force changed since this draft was made")}>
            {replaces === null
              ? t(
                  "It was made when no plan was in force. The tables compare with the plan that is in force now.",
                )
              : t(
                  "It was made when plan {{plan}} was in force. The tables compare with the plan that is in force now.",
                  { plan: String(replaces) },
                )}
          </Notice>
        ) : null}
        {broken.length > 0 ? (
          <Notice kind="problem" title={t("It cannot be put in force")}>
            <BrokenList broken={broken} />
            {times?.ok && times.value.shifts.length > 0 ? (
              <TimesNow planId={head.id} revision={head.revision} visits={times.value.shifts.length} />
            ) : null}
            <p>
              {withParts(
                t(
                  "Move the visits on the {{board}}, or {{solve}} with the data as they are now.",
                  places("board", "solve"),
                ),
                {
                  board: <Link href={`/plan?plan=${head.id}`}>{t("board")}</Link>,
                  solve: <Link href="/plan/solve">{t("solve anew")}</Link>,
                },
              )}
            </p>
          </Notice>
        ) : null}
        {inForce && asBefore.length > 0 ? (
          <Notice
            kind="warn"
            title={t("{{count}} hard rules are broken by plan {{plan}}, in force, as well", {
              count: asBefore.length,
              plan: String(inForce.id),
            })}
          >
            <p>{t("They do not keep this plan from being put in force. Look after them all the same.")}</p>
            <BrokenList broken={asBefore} />
          </Notice>
        ) : null}
        {head.state === "past" ? null : (
          <GatesNotice
            plans={[
              ...(other ? [{ planId: other.id, shut: shutGatesOf(db, otherRows) }] : []),
              { planId: head.id, shut: shutGatesOf(db, rows) },
            ]}
          />
        )}
        {head.state === "draft" ? (
          <div className="flex flex-wrap gap-2 ui-no-print">
            <DraftActions
              planId={head.id}
              revision={head.revision}
              inForceId={inForce?.id ?? null}
              broken={broken.length}
              effect={loadInForceEffect(db, head.id, inForce?.id, today)}
            />
            <LinkButton href={`/plan?plan=${head.id}`}>{t("Open its board")}</LinkButton>
          </div>
        ) : null}
        {choices.some((p) => p !== inForce) ? <Beside plan={head} other={other} choices={choices} /> : null}
        <div className="grid gap-4 xl:grid-cols-2">
          <Panel
            title={t("In figures")}
            note={t("Late means by the plan's days, and by gates that open after them.")}
            flush
          >
            <ScrollRegion label={t("Both plans in figures")}>
              <table className="ui-facts ui-facts-stack">
                <thead>
                  <tr>
                    <th scope="col">{t("Figure")}</th>
                    <th scope="col" data-align="end">
                      {names.before}
                    </th>
                    <th scope="col" data-align="end">
                      {names.after}
                    </th>
                    <th scope="col" data-align="end">
                      {t("Change")}
                    </th>
                    <th scope="col">{t("Unit")}</th>
                    <th scope="col">{t("Means")}</th>
                  </tr>
                </thead>
                <tbody>
                  <FigureRow
                    names={names}
                    label={t("Hops late")}
                    unit={t("hops")}
                    before={otherCounts?.lateHops}
                    after={counts.lateHops}
                  />
                  <FigureRow
                    names={names}
                    label={t("Days late, all hops")}
                    unit={t("days")}
                    before={otherCounts?.lateDays}
                    after={counts.lateDays}
                  />
                  <FigureRow
                    names={names}
                    label={t("Items that run out")}
                    unit={t("items")}
                    before={otherCounts?.runOut}
                    after={counts.runOut}
                  />
                  {COST_LINES.map((line) => (
                    <FigureRow
                      names={names}
                      key={line.key}
                      label={t(line.label)}
                      unit={t(line.unit)}
                      before={costs.other ? line.value(costs.other) : undefined}
                      after={line.value(costs.plan)}
                    />
                  ))}
                  <FigureRow
                    names={names}
                    label={t("Weighted sum, which the search makes small")}
                    unit={t("points")}
                    before={costs.other?.total}
                    after={costs.plan.total}
                  />
                </tbody>
              </table>
            </ScrollRegion>
          </Panel>
          <SurenessPanel db={db} head={head} other={other} />
          <Panel
            title={t("Hops that finish on another day")}
            note={t("{{count}} hops", { count: hops.length })}
            flush
          >
            {hops.length === 0 ? (
              <p className="px-4 py-3">{t("Every hop finishes on the same day as before.")}</p>
            ) : (
              <ScrollRegion label={t("Hops that finish on another day")}>
                <table className="ui-facts ui-facts-stack">
                  <thead>
                    <tr>
                      <th scope="col">{t("Hop")}</th>
                      <th scope="col">{t("Was")}</th>
                      <th scope="col">{t("Now")}</th>
                      <th scope="col">{t("Promise")}</th>
                      <th scope="col">{t("By this plan")}</th>
                    </tr>
                  </thead>
                  <tbody>
                    {hops.slice(0, ROWS_SHOWN).map((h) => (
                      <tr key={h.hopCode}>
                        <th scope="row">
                          <Link href={`/hops/${encodeURIComponent(h.hopCode)}`}>{h.hopCode}</Link>
                        </th>
                        <td data-label={t("Was")}>{finishWords(h.was, words)}</td>
                        <td data-label={t("Now")}>{finishWords(h, words)}</td>
                        <td data-label={t("Promise")}>{formatDate(h.promisedOn, "day", locale)}</td>
                        <td data-label={t("By this plan")}>
                          {h.daysLate === undefined ? NO_VALUE : daysLate(h.daysLate)}
                        </td>
                      </tr>
                    ))}
                  </tbody>
                </table>
                <More count={hops.length - ROWS_SHOWN} />
              </ScrollRegion>
            )}
          </Panel>
          <ChangedPanel
            planId={head.id}
            changed={changed}
            // Moved means from the plan in force: beside another draft it is no figure of what changes here.
            figure={other && isWithInForce ? costs.plan.movedVisits : undefined}
          />
          <Panel
            title={t("Items that run out by this plan")}
            note={
              other && (fresh > 0 || gone.length > 0)
                ? t("Without new orders. {{fresh}} did not run out by the other plan; no longer: {{gone}}.", {
                    fresh: formatNumber(fresh, 0, locale),
                    gone: gone.length > 0 ? gone.join(", ") : t("none"),
                  })
                : t("Without new orders.")
            }
            flush
            foot={
              head.state === "draft"
                ? t("Netted when the draft was solved; moves by hand count once it is in force.")
                : undefined
            }
          >
            {short.length === 0 ? (
              <p className="px-4 py-3">{t("Stock and orders on the way cover every planned kit.")}</p>
            ) : (
              <ScrollRegion label={t("Items that run out")}>
                <table className="ui-facts ui-facts-stack">
                  <thead>
                    <tr>
                      <th scope="col">{t("Item")}</th>
                      <th scope="col">{t("Runs out")}</th>
                      <th scope="col">{t("Stops")}</th>
                      <th scope="col">{t("Before")}</th>
                    </tr>
                  </thead>
                  <tbody>
                    {short.slice(0, ROWS_SHOWN).map((n) => (
                      <tr key={n.itemCode}>
                        <th scope="row">
                          <Link href={`/stock/items/${encodeURIComponent(n.itemCode)}`}>{n.itemCode}</Link>
                        </th>
                        <td data-label={t("Runs out")}>{formatDate(n.runsOutOn, "weekday", locale)}</td>
                        <td data-label={t("Stops")}>{t("{{count}} visits", { count: n.stops.length })}</td>
                        <td data-label={t("Before")}>
                          {shortBefore.has(n.itemCode) ? t("ran out too") : t("did not run out")}
                        </td>
                      </tr>
                    ))}
                  </tbody>
                </table>
                <More count={short.length - ROWS_SHOWN} />
              </ScrollRegion>
            )}
          </Panel>
        </div>
      </div>
    </>
  );
}

/** With which of the other plans this one is compared. */
async function Beside({
  plan,
  other,
  choices,
}: {
  plan: PlanHead;
  other?: PlanHead;
  choices: readonly PlanHead[];
}) {
  const { t } = await serverWords();
  return (
    <nav aria-label={t("Compare with")} className="flex flex-wrap items-baseline gap-x-4 gap-y-1 ui-no-print">
      <span className="text-quiet">{t("Compare with")}</span>
      {choices.map((p) => (
        <Link
          key={p.id}
          href={`/plan/compare?plan=${plan.id}&with=${p.id}`}
          aria-current={p === other ? "page" : undefined}
        >
          {t("Plan {{plan}}, {{state}}", { plan: String(p.id), state: t(p.state) })}
        </Link>
      ))}
    </nav>
  );
}

async function FigureRow({
  names,
  label,
  unit,
  before,
  after,
}: {
  /** The heads of the two plans. */
  names: { before: string; after: string };
  label: string;
  unit: string;
  before?: number;
  after: number;
}) {
  const { t, locale } = await serverWords();
  const digits = unit === "h" ? 1 : 0;
  const change = before === undefined ? undefined : shownChange(before, after, digits);
  return (
    <tr>
      <th scope="row">{label}</th>
      <td data-align="end" data-label={names.before}>
        {before === undefined ? NO_VALUE : formatNumber(before, digits, locale)}
      </td>
      <td data-align="end" data-label={names.after}>
        {formatNumber(after, digits, locale)}
      </td>
      <td data-align="end" data-label={t("Change")}>
        {change === undefined ? NO_VALUE : `${change > 0 ? "+" : ""}${formatNumber(change, digits, locale)}`}
      </td>
      <td data-label={t("Unit")}>{unit}</td>
      <td data-label={t("Means")}>
        {/* Each figure is a cost: less of it is better. */}
        {change === undefined ? NO_VALUE : <Means gain={-change} />}
      </td>
    </tr>
  );
}

const finishWords = (h: HopFinish, { t, locale }: Words) =>
  h.finishOn
    ? formatDate(h.finishOn, "weekday", locale)
    : h.hold
      ? t("on hold until the next plan")
      : t("not to its end");

const MOST_BROKEN = 12;

async function BrokenList({ broken }: { broken: readonly SaidBroken[] }) {
  const { t } = await serverWords();
  return (
    <ul>
      {broken.slice(0, MOST_BROKEN).map((b) => (
        <li key={b.message}>
          <strong>{b.rule}</strong>: {b.message}
        </li>
      ))}
      {broken.length > MOST_BROKEN ? (
        <li>{t("and {{more}} more", { more: broken.length - MOST_BROKEN })}</li>
      ) : null}
    </ul>
  );
}
