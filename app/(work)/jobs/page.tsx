import type { Metadata } from "next";
import { isJobKind, JOB_KINDS } from "@/app/_server/jobKinds";
import { requireRole } from "@/app/_server/session";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { database } from "@/db/open";
import { recentJobs } from "@/db/queries/jobs";
import { WorkerCheck } from "./WorkerCheck";

export const metadata: Metadata = { title: "Long work" };

const seconds = (millis: number) => `${(millis / 1000).toFixed(1)} s`;

export default async function JobsPage() {
  await requireRole("administrator");
  const jobs = recentJobs(database(), 25);
  return (
    <>
      <PageHead
        title="Long work"
        lead="What the worker process is doing, has done and could not finish."
        crumbs={[{ label: "Rules", href: "/rules" }]}
      />
      <div className="grid gap-4">
        <Panel title="Check the worker" note="Counts for some seconds, as busy as a solve is.">
          <WorkerCheck />
        </Panel>
        <Panel title="Latest" flush>
          {jobs.length === 0 ? (
            <p className="text-quiet p-4">Nothing has been started yet.</p>
          ) : (
            <div className="ui-scroll">
              <table className="ui-facts">
                <thead>
                  <tr>
                    <th scope="col">Work</th>
                    <th scope="col">State</th>
                    <th scope="col">Asked for (UTC)</th>
                    <th scope="col" data-align="end">
                      Took
                    </th>
                    <th scope="col">Remark</th>
                  </tr>
                </thead>
                <tbody>
                  {jobs.map((job) => (
                    <tr key={job.id}>
                      <th scope="row">{isJobKind(job.kind) ? JOB_KINDS[job.kind].label : job.kind}</th>
                      <td>{job.state}</td>
                      <td>{new Date(job.createdAt).toISOString().slice(0, 19).replace("T", " ")}</td>
                      <td data-align="end">
                        {job.startedAt && job.endedAt ? seconds(job.endedAt - job.startedAt) : ""}
                      </td>
                      <td>{job.error}</td>
                    </tr>
                  ))}
                </tbody>
              </table>
            </div>
          )}
        </Panel>
      </div>
    </>
  );
}
