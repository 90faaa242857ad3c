import type { Metadata } from "next";
import Link from "next/link";
import { Fragment } from "react";
import { homeToday } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { requireRole } from "@/app/_server/session";
import { visitName } from "@/app/_ui/language/visitName";
import { Notice } from "@/app/_ui/Notice";
import { PageHead } from "@/app/_ui/PageHead";
import { type Db, database } from "@/db/open";
import { holdsOf } from "@/db/queries/holds";
import { loadPlanVisits, type PlanHead, type PlannedVisit } from "@/db/queries/plans";
import { loadPlanChoices } from "@/db/queries/planViews";
import { unreportedVisits } from "@/db/queries/unreported";
import { addDays, type CalendarDate } from "@/lib/time";
import { visitPhrase } from "@/lib/visitIds";
import { SolveForm } from "./SolveForm";

/** Days of the plan in force that a new one usually leaves as they are, today included. */
const FROZEN_DAYS = 2;
/** Visits that a notice has room to name. */
const MOST_NAMED = 12;

/** Visits on hold that the plan has from `from` up to `day`. */
function heldWithin(db: Db, plan: PlanHead, from: CalendarDate, day: CalendarDate): PlannedVisit[] {
  const holds = holdsOf(db, plan);
  return loadPlanVisits(db, plan.id).filter(
    (v) => holds.has(v.visitId) && v.startOn !== null && v.startOn >= from && v.startOn < day,
  );
}

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Solve anew") };
}

export default async function SolvePage({ searchParams }: { searchParams: Promise<{ job?: string }> }) {
  const { t, say } = await serverWords();
  await requireRole("administrator", "manager");
  const { job } = await searchParams;
  const db = database();
  const { inForce, drafts } = loadPlanChoices(db);
  const open = t("Open drafts: plans {{plans}}", {
    count: drafts.length,
    plans: drafts.map((d) => d.id).join(", "),
  });
  const frozenDays = inForce ? FROZEN_DAYS : 0;
  const today = homeToday(db);
  const holds = inForce ? heldWithin(db, inForce, today, addDays(today, frozenDays)) : [];
  const unreported = inForce ? unreportedVisits(db, inForce, today) : [];
  const wholeName = (visitId: string): string => {
    const whole = visitPhrase(visitId);
    return typeof whole === "string" ? whole : say(whole);
  };
  const named = (isPinned: boolean) =>
    holds
      .filter((v) => v.isPinned === isPinned)
      .map((v) => visitName(v.visitId, t))
      .join(", ");
  const [free, pinned] = [named(false), named(true)];
  return (
    <>
      <PageHead
        title={t("Solve anew")}
        crumbs={[{ label: t("Plan"), href: "/plan" }]}
        lead={t(
          "Searches for a plan from today on, with gates, kits, weather and crews as they are now. It ends as a draft: nothing changes until you put it in force.",
        )}
      />
      <div className="grid grid-cols-[minmax(0,1fr)] gap-4">
        {drafts.length > 0 ? (
          <Notice kind="info" title={t("What is moved and pinned in drafts is not taken over")}>
            {inForce
              ? t(
                  "The search starts from the plan in force (plan {{inForce}}) and keeps its pins. {{drafts}}. Put one in force first if the search is to keep what was done there.",
                  { inForce: inForce.id, drafts: open },
                )
              : t("No plan is in force yet: the search starts anew. {{drafts}}.", { drafts: open })}
          </Notice>
        ) : null}
        {unreported.length > 0 ? (
          <Notice
            kind="warn"
            title={t("{{count}} visits should have ended before today, and nobody reported on them", {
              count: unreported.length,
            })}
          >
            <p>
              {t(
                "A new plan counts them as still to do, whole, and places them after the days that are left as they are, with what waits for them there. What was done, its crew reports first, or you for it:",
              )}{" "}
              {unreported.slice(0, MOST_NAMED).map((v, i) => (
                <Fragment key={v.visitId}>
                  {i > 0 ? ", " : ""}
                  <Link href={`/week/visit/${v.visitId}#report`}>{wholeName(v.visitId)}</Link>
                </Fragment>
              ))}
              {unreported.length > MOST_NAMED
                ? `, ${t("{{count}} more", { count: unreported.length - MOST_NAMED })}`
                : ""}
              .
            </p>
          </Notice>
        ) : null}
        {holds.length > 0 ? (
          <Notice
            kind={pinned ? "warn" : "info"}
            title={t("{{count}} visits on hold lie in the days that are left as they are", {
              count: holds.length,
            })}
          >
            {free ? (
              <p>
                {t(
                  "{{visits}}: not kept there. The new plan gives a place after these days, also to what waits for it, or says why not.",
                  { visits: free },
                )}
              </p>
            ) : null}
            {pinned ? (
              <p>
                {t("{{visits}}: pinned, so left there. What is unpinned is planned anew.", {
                  visits: pinned,
                })}
              </p>
            ) : null}
          </Notice>
        ) : null}
        <SolveForm
          jobId={job}
          weeks={inForce ? Math.max(1, Math.round(inForce.dayCount / 7)) : 12}
          frozenDays={frozenDays}
          hasPlan={inForce !== undefined}
        />
      </div>
    </>
  );
}
