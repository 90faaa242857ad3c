import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { markOf } from "@/app/_server/designByHand";
import { serverWords } from "@/app/_server/language";
import { requireRole } from "@/app/_server/session";
import { decimalMarkOf } from "@/app/_ui/language/decimalMark";
import { PageHead } from "@/app/_ui/PageHead";
import { fieldsOf } from "@/app/(work)/add/fields";
import { SiteForm } from "@/app/(work)/add/site/SiteForm";
import { siteSuggestions } from "@/app/(work)/add/suggested";
import { sitePath } from "@/app/(work)/hops/hopStates";
import { IMPORTERS } from "@/app/(work)/import/kinds";
import { database } from "@/db/open";
import { rowOfSite } from "@/db/queries/existingRows";
import { typedCells } from "@/lib/exchange";

interface ChangeSiteProps {
  params: Promise<{ code: string }>;
}

export async function generateMetadata({ params }: ChangeSiteProps): Promise<Metadata> {
  const { t } = await serverWords();
  return { title: t("Change site {{code}}", { code: decodeURIComponent((await params).code) }) };
}

export default async function ChangeSitePage({ params }: ChangeSiteProps) {
  const { t, language } = await serverWords();
  const visitor = await requireRole(...IMPORTERS);
  const code = decodeURIComponent((await params).code);
  const db = database();
  const row = rowOfSite(db, code);
  if (!row) notFound();
  const decimal = decimalMarkOf(language);
  return (
    <>
      <PageHead
        title={t("Change site {{code}}", { code })}
        lead={t("Every plan made before knows nothing of the change; the log keeps it with your name.")}
        crumbs={[
          { label: t("Sites and hops"), href: "/sites" },
          { label: code, href: sitePath(code) },
        ]}
      />
      <SiteForm
        keptAs={`site ${visitor.userId} ${code}`}
        fields={fieldsOf("sites", decimal)}
        cells={typedCells("sites", row, decimal)}
        opened={{ code, mark: markOf(db, "site", code) }}
        suggestions={siteSuggestions(db)}
      />
    </>
  );
}
