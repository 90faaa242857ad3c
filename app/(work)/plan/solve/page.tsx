import type { Metadata } from "next";
import { serverWords } from "@/app/_server/language";
import { requireRole } from "@/app/_server/session";
import { Notice } from "@/app/_ui/Notice";
import { PageHead } from "@/app/_ui/PageHead";
import { database } from "@/db/open";
import { loadPlanChoices } from "@/db/queries/planViews";
import { SolveForm } from "./SolveForm";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Solve anew") };
}

export default async function SolvePage({ searchParams }: { searchParams: Promise<{ job?: string }> }) {
  const { t } = await serverWords();
  await requireRole("administrator", "manager");
  const { job } = await searchParams;
  const { inForce, drafts } = loadPlanChoices(database());
  return (
    <>
      <PageHead
        title={t("Solve anew")}
        crumbs={[{ label: t("Plan"), href: "/plan" }]}
        lead={t(
          "Searches for a plan from today on, with gates, kits, weather and crews as they are now. It ends as a draft: nothing changes until you put it in force.",
        )}
      />
      {drafts.length > 0 ? (
        <Notice kind="info" title={t("What is moved and pinned in drafts is not taken over")}>
          {inForce
            ? t(
                "The search starts from the plan in force (plan {{inForce}}) and keeps its pins. Open drafts: {{drafts}}. Put one in force first if the search is to keep what was done there.",
                { inForce: inForce.id, drafts: drafts.map((d) => d.id).join(", ") },
              )
            : t("No plan is in force yet: the search starts anew. Open drafts: {{drafts}}.", {
                drafts: drafts.map((d) => d.id).join(", "),
              })}
        </Notice>
      ) : null}
      <SolveForm
        jobId={job}
        weeks={inForce ? Math.max(1, Math.round(inForce.dayCount / 7)) : 12}
        frozenDays={inForce ? 2 : 0}
        hasPlan={inForce !== undefined}
      />
    </>
  );
}
