import type { Metadata } from "next";
import { homeZone } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { requireRole } from "@/app/_server/session";
import { decimalMarkOf } from "@/app/_ui/language/decimalMark";
import { PageHead } from "@/app/_ui/PageHead";
import { database } from "@/db/open";
import { IMPORTERS } from "../../import/kinds";
import { fieldsOf } from "../fields";
import { siteSuggestions } from "../suggested";
import { SiteForm } from "./SiteForm";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Add a site") };
}

export default async function AddSitePage() {
  const { t, language } = await serverWords();
  const visitor = await requireRole(...IMPORTERS);
  const db = database();
  const fields = fieldsOf("sites", decimalMarkOf(language));
  const weekdays = fields.find((f) => f.key === "accessWeekdays")?.usual ?? "";
  return (
    <>
      <PageHead
        title={t("Add a site")}
        lead={t("One site by hand, with the same fields and rules as a row of the sites file.")}
        crumbs={[{ label: t("Sites and hops"), href: "/sites" }]}
      />
      <SiteForm
        keptAs={`site ${visitor.userId}`}
        fields={fields}
        // Most sites lie in the zone of the programme.
        cells={{ accessWeekdays: weekdays, zone: homeZone(db) }}
        opened={null}
        suggestions={siteSuggestions(db)}
      />
    </>
  );
}
