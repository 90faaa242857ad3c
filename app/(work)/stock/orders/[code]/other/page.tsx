import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { homeToday } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { requireRoleInRegions } from "@/app/_server/session";
import { PageHead } from "@/app/_ui/PageHead";
import { database } from "@/db/open";
import { loadCatalogue } from "@/db/queries/catalogue";
import { loadOrder } from "@/db/queries/orderViews";
import { orderPath } from "../../../words";
import { OtherForm } from "./OtherForm";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Something else came") };
}

interface OtherPageProps {
  params: Promise<{ code: string }>;
}

/** A wrong item in the box: on no line of the order, taken in and on hold. */
export default async function OtherPage({ params }: OtherPageProps) {
  await requireRoleInRegions("logistics", "administrator");
  const { t } = await serverWords();
  const code = decodeURIComponent((await params).code);
  const db = database();
  const order = loadOrder(db, code);
  if (!order) notFound();
  const ordered = new Set(order.lines.map((l) => l.itemCode));
  return (
    <>
      <PageHead
        crumbs={[
          { label: t("Stock"), href: "/stock" },
          { label: t("Orders"), href: "/stock?tab=orders" },
          { label: code, href: orderPath(code) },
        ]}
        title={t("Something else came")}
        lead={t(
          "An item that is on no line of {{order}}. It is taken in at {{placeName}} and goes on hold: for no kit until it is kept or has gone back. What was ordered is still to come.",
          { order: code, placeName: order.placeName },
        )}
      />
      <OtherForm
        orderCode={code}
        today={homeToday(db)}
        items={loadCatalogue(db)
          .filter((i) => !ordered.has(i.code))
          .map((i) => ({
            code: i.code,
            name: i.name,
            unit: i.unit,
            isCable: i.category === "IF cable",
            isRadio: i.category === "ODU",
            expires: i.shelfLifeDays !== undefined,
          }))}
      />
    </>
  );
}
