import type { Metadata } from "next";
import { isJobKind, JOB_KINDS } from "@/app/_server/jobKinds";
import { serverWords } from "@/app/_server/language";
import { requireRole } from "@/app/_server/session";
import { formatNumber } from "@/app/_ui/format";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { database } from "@/db/open";
import { recentJobs } from "@/db/queries/jobs";
import { WorkerCheck } from "./WorkerCheck";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Long work") };
}

const seconds = (millis: number, locale: string) => `${formatNumber(millis / 1000, 1, locale, true)} s`;

export default async function JobsPage() {
  const { t, locale } = await serverWords();
  await requireRole("administrator");
  const jobs = recentJobs(database(), 25);
  return (
    <>
      <PageHead
        title={t("Long work")}
        lead={t("What the worker process is doing, has done and could not finish.")}
        crumbs={[{ label: t("Rules"), href: "/rules" }]}
      />
      <div className="grid gap-4">
        <Panel title={t("Check the worker")} note={t("Counts for some seconds, as busy as a solve is.")}>
          <WorkerCheck />
        </Panel>
        <Panel title={t("Latest")} flush>
          {jobs.length === 0 ? (
            <p className="text-quiet p-4">{t("Nothing has been started yet.")}</p>
          ) : (
            <ScrollRegion label={t("Long work")}>
              <table className="ui-facts">
                <thead>
                  <tr>
                    <th scope="col">{t("Work")}</th>
                    <th scope="col">{t("State")}</th>
                    <th scope="col">{t("Asked for (UTC)")}</th>
                    <th scope="col" data-align="end">
                      {t("Took")}
                    </th>
                    <th scope="col">{t("Remark")}</th>
                  </tr>
                </thead>
                <tbody>
                  {jobs.map((job) => (
                    <tr key={job.id}>
                      <th scope="row">{isJobKind(job.kind) ? t(JOB_KINDS[job.kind].label) : job.kind}</th>
                      <td>{job.state === "cancelled" ? t("cancelled (work)") : t(job.state)}</td>
                      <td>{new Date(job.createdAt).toISOString().slice(0, 19).replace("T", " ")}</td>
                      <td data-align="end">
                        {job.startedAt && job.endedAt ? seconds(job.endedAt - job.startedAt, locale) : ""}
                      </td>
                      <td lang="en">{job.error}</td>
                    </tr>
                  ))}
                </tbody>
              </table>
            </ScrollRegion>
          )}
        </Panel>
      </div>
    </>
  );
}
