import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { markOf } from "@/app/_server/designByHand";
import { serverWords } from "@/app/_server/language";
import { requireRole } from "@/app/_server/session";
import { decimalMarkOf } from "@/app/_ui/language/decimalMark";
import { PageHead } from "@/app/_ui/PageHead";
import { filledHop } from "@/app/(work)/add/hop/draft";
import { HopForm } from "@/app/(work)/add/hop/HopForm";
import { hopFields } from "@/app/(work)/add/hop/hopFields";
import { hopSuggestions } from "@/app/(work)/add/suggested";
import { IMPORTERS } from "@/app/(work)/import/kinds";
import { type Db, database } from "@/db/open";
import { rowOfSite, rowsOfHop } from "@/db/queries/existingRows";
import { type DecimalMark, type DesignRows, typedCells } from "@/lib/exchange";
import { hopPath } from "../../hopStates";

interface ChangeHopProps {
  params: Promise<{ code: string }>;
}

export async function generateMetadata({ params }: ChangeHopProps): Promise<Metadata> {
  const { t } = await serverWords();
  return { title: t("Change hop {{code}}", { code: decodeURIComponent((await params).code) }) };
}

export default async function ChangeHopPage({ params }: ChangeHopProps) {
  const { t, language } = await serverWords();
  const visitor = await requireRole(...IMPORTERS);
  const code = decodeURIComponent((await params).code);
  const db = database();
  const rows = rowsOfHop(db, code);
  const hop = rows?.hops[0];
  if (!rows || !hop) notFound();
  const decimal = decimalMarkOf(language);
  return (
    <>
      <PageHead
        title={t("Change hop {{code}}", { code })}
        lead={t("Every plan made before knows nothing of the change; the log keeps it with your name.")}
        crumbs={[
          { label: t("Sites and hops"), href: "/sites?tab=hops" },
          { label: code, href: hopPath(code) },
        ]}
      />
      <HopForm
        keptAs={`hop ${visitor.userId} ${code}`}
        fields={hopFields(decimal)}
        start={filledFrom(rows, decimal)}
        opened={{ code, mark: markOf(db, "hop", code) }}
        suggestions={hopSuggestions(db, decimal)}
        siteNames={{ near: nameOf(db, hop.nearSiteCode), far: nameOf(db, hop.farSiteCode) }}
      />
    </>
  );
}

const nameOf = (db: Db, code: string | undefined) =>
  code === undefined ? undefined : rowOfSite(db, code)?.name;

const filledFrom = ({ hops, ends, antennas, radios, gates }: DesignRows, decimal: DecimalMark) =>
  filledHop(typedCells("hops", hops[0]!, decimal), {
    ends: ends.map((row) => typedCells("ends", row, decimal)),
    antennas: antennas.map((row) => typedCells("antennas", row, decimal)),
    radios: radios.map((row) => typedCells("radios", row, decimal)),
    gates: gates.map((row) => typedCells("gates", row, decimal)),
  });
