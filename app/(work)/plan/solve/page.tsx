import type { Metadata } from "next";
import { serverWords } from "@/app/_server/language";
import { requireRole } from "@/app/_server/session";
import { PageHead } from "@/app/_ui/PageHead";
import { database } from "@/db/open";
import { planInForce } from "@/db/queries/plans";
import { SolveForm } from "./SolveForm";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Solve anew") };
}

export default async function SolvePage({ searchParams }: { searchParams: Promise<{ job?: string }> }) {
  const { t } = await serverWords();
  await requireRole("administrator", "manager");
  const { job } = await searchParams;
  const inForce = planInForce(database());
  return (
    <>
      <PageHead
        title={t("Solve anew")}
        crumbs={[{ label: t("Plan"), href: "/plan" }]}
        lead={t(
          "Searches for a plan from today on, with gates, kits, weather and crews as they are now. It ends as a draft: nothing changes until you put it in force.",
        )}
      />
      <SolveForm
        jobId={job}
        weeks={inForce ? Math.max(1, Math.round(inForce.dayCount / 7)) : 12}
        frozenDays={inForce ? 2 : 0}
        hasPlan={inForce !== undefined}
      />
    </>
  );
}
