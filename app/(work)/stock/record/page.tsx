import type { Metadata } from "next";
import { homeToday } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { requireRoleInRegions } from "@/app/_server/session";
import { PageHead } from "@/app/_ui/PageHead";
import { database } from "@/db/open";
import { loadCatalogue } from "@/db/queries/catalogue";
import { loadDrums } from "@/db/queries/drums";
import { issuedKitVisits } from "@/db/queries/kitRows";
import { loadPlaces } from "@/db/queries/places";
import { loadBalances, loadLots } from "@/db/queries/shelves";
import { takesSerials } from "@/lib/stock";
import { RecordForm } from "./RecordForm";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Record a movement") };
}

interface RecordPageProps {
  searchParams: Promise<{ kind?: string; item?: string }>;
}

/** Movements that no order and no kit makes. */
export default async function RecordPage({ searchParams }: RecordPageProps) {
  await requireRoleInRegions("logistics", "administrator");
  const { t } = await serverWords();
  const { kind, item } = await searchParams;
  const db = database();
  const drums = loadDrums(db);
  return (
    <>
      <PageHead
        crumbs={[{ label: t("Stock"), href: "/stock" }]}
        title={t("Record a movement")}
        lead={t(
          "A receipt without an order, a transfer, a count, scrap or a return. Rows of the ledger are never changed afterwards: a wrong one is taken back.",
        )}
      />
      <RecordForm
        today={homeToday(db)}
        initialKind={kind}
        initialItem={item}
        items={loadCatalogue(db).map((i) => ({
          code: i.code,
          name: i.name,
          unit: i.unit,
          isCable: i.category === "IF cable",
          expires: i.shelfLifeDays !== undefined,
          takesSerials: takesSerials(i.category),
        }))}
        places={loadPlaces(db).map((p) => ({ code: p.code, name: p.name, kind: p.kind }))}
        lots={loadLots(db).map((l) => ({ code: l.code, itemCode: l.itemCode, expiresOn: l.expiresOn }))}
        drums={drums.map((d) => ({
          serial: d.serial,
          itemCode: d.itemCode,
          placeCode: d.placeCode,
          leftM: d.remainingC / 100,
        }))}
        visitIds={issuedKitVisits(db)}
        balances={loadBalances(db).map((b) => ({
          itemCode: b.itemCode,
          placeCode: b.placeCode,
          lotCode: b.lotCode,
          quantity: b.quantityC / 100,
        }))}
      />
    </>
  );
}
