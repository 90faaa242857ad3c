import Link from "next/link";
import { serverWords } from "@/app/_server/language";
import { formatDate, formatInstant } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { StateMark } from "@/app/_ui/StateMark";
import type { Db } from "@/db/open";
import { type GivenVisit, holderOf } from "@/db/queries/givenVisits";
import { latestOf, reportsOfVisit } from "@/db/queries/reports";
import { loadVisitDesk } from "@/db/queries/visitDesk";
import { ReportForm } from "./ReportForm";
import { reportFormOf } from "./reportFormOf";

/** A visit that the crew had by an earlier plan: whose it is by the plan in force, and a report of what was worked before. */
export async function HandedOver({ db, userId, given }: { db: Db; userId: string; given: GivenVisit }) {
  const words = await serverWords();
  const { t, locale } = words;
  const { visit } = given;
  const desk = loadVisitDesk(db, visit.visitId, given);
  const holder = holderOf(db, visit.visitId);
  const last = latestOf(reportsOfVisit(db, visit.visitId));
  return (
    <>
      <PageHead
        title={desk ? `${desk.site.code} ${desk.site.name}` : visit.siteCode}
        crumbs={[{ label: t("My week"), href: "/week" }]}
        lead={`${visit.hopCode}, ${t(`${visit.side} end`)}, ${t(visit.kind)}`}
        marks={
          last ? (
            <StateMark
              state={last.outcome === "done" ? "done" : last.outcome === "hold" ? "hold" : "under way"}
            />
          ) : undefined
        }
      />
      <div className="grid max-w-3xl gap-4">
        <Notice
          kind="info"
          title={
            holder
              ? t("This visit is crew {{crew}}'s in the plan in force, on {{day}}.", {
                  crew: holder.crewCode,
                  day: formatDate(holder.startOn, "weekday", locale),
                })
              : t("No crew goes there by the plan in force.")
          }
        >
          <p>
            {t("It was yours on {{day}}, by an earlier plan.", {
              day: formatDate(visit.startOn, "weekday", locale),
            })}
          </p>
          {last ? (
            <p>
              {t("Crew {{crew}} reported it last: {{name}}, {{when}}.", {
                crew: last.crewCode,
                name: last.reportedBy,
                when: formatInstant(last.reportedAt, desk?.site.zone ?? "UTC", locale),
              })}
            </p>
          ) : null}
          <p>
            <Link href="/week">{t("My week")}</Link>
          </p>
        </Notice>
        {desk ? (
          <Panel
            title={t("Report")}
            note={t(
              "Only of what your crew worked there while the visit was yours. It counts for your crew.",
            )}
            id="report"
          >
            <ReportForm {...reportFormOf(db, desk, userId, words)} />
          </Panel>
        ) : null}
      </div>
    </>
  );
}
