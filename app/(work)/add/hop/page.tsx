import type { Metadata } from "next";
import { serverWords } from "@/app/_server/language";
import { requireRole } from "@/app/_server/session";
import { decimalMarkOf } from "@/app/_ui/language/decimalMark";
import { PageHead } from "@/app/_ui/PageHead";
import { database } from "@/db/open";
import { rowOfSite } from "@/db/queries/existingRows";
import { IMPORTERS } from "../../import/kinds";
import { hopSuggestions } from "../suggested";
import { emptyHop } from "./draft";
import { HopForm } from "./HopForm";
import { hopFields } from "./hopFields";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Add a hop") };
}

interface AddHopProps {
  /** Code of the site that it begins at. */
  searchParams: Promise<{ near?: string }>;
}

export default async function AddHopPage({ searchParams }: AddHopProps) {
  const { t, language } = await serverWords();
  const visitor = await requireRole(...IMPORTERS);
  const db = database();
  const asked = (await searchParams).near;
  const near = asked === undefined ? undefined : rowOfSite(db, asked);
  const decimal = decimalMarkOf(language);
  return (
    <>
      <PageHead
        title={t("Add a hop")}
        lead={t(
          "One hop by hand, with the same fields and rules as the files of hops, ends, antennas, radios and gates.",
        )}
        crumbs={[{ label: t("Sites and hops"), href: "/sites?tab=hops" }]}
      />
      <HopForm
        keptAs={`hop ${visitor.userId} from ${near?.code ?? ""}`}
        fields={hopFields(decimal)}
        start={emptyHop(near?.code)}
        opened={null}
        suggestions={hopSuggestions(db, decimal)}
        siteNames={{ near: near?.name }}
      />
    </>
  );
}
