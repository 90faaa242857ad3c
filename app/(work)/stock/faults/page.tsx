import type { Metadata } from "next";
import { homeToday } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { requireRoleInRegions } from "@/app/_server/session";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatNumber } from "@/app/_ui/format";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { Stat, StatRow } from "@/app/_ui/Stat";
import { database } from "@/db/open";
import { loadCatalogue } from "@/db/queries/catalogue";
import { loadDrums } from "@/db/queries/drums";
import { loadFaults } from "@/db/queries/faultViews";
import { issuedKitVisits } from "@/db/queries/kitRows";
import { loadPlaces } from "@/db/queries/places";
import { STOCK_ROLES } from "../words";
import { FaultTable } from "./FaultTable";
import { FoundForm } from "./FoundForm";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Faulty pieces") };
}

interface FaultsPageProps {
  searchParams: Promise<{ item?: string }>;
}

/** Pieces found faulty: what waits on hold, what is in repair and when it comes back, and what became of the others. */
export default async function FaultsPage({ searchParams }: FaultsPageProps) {
  const visitor = await requireRoleInRegions(...STOCK_ROLES);
  const { t, locale } = await serverWords();
  const { item } = await searchParams;
  const db = database();
  const today = homeToday(db);
  const faults = loadFaults(db);
  const onHold = faults.filter((f) => f.state === "on hold");
  const inRepair = faults.filter((f) => f.state === "in repair");
  const ended = faults.filter((f) => f.state !== "on hold" && f.state !== "in repair");
  const overdue = inRepair.filter((f) => f.expectedBackOn !== null && f.expectedBackOn < today).length;
  const unpromised = inRepair.filter((f) => f.expectedBackOn === null).length;
  const mayPost = visitor.role === "logistics" || visitor.role === "administrator";
  const places = loadPlaces(db);
  const drums = loadDrums(db).map(({ serial, itemCode, placeCode, remainingC }) => ({
    serial,
    itemCode,
    placeCode,
    leftM: remainingC / 100,
  }));
  return (
    <>
      <PageHead
        crumbs={[{ label: t("Stock"), href: "/stock" }]}
        title={t("Faulty pieces")}
        lead={t(
          "Dead on arrival, failed in service, or doubted at the door: put on hold, sent to repair, back, exchanged, returned or scrapped. On hold and in repair nothing counts as on hand; a promised day back counts like a delivery.",
        )}
      />
      <StatRow>
        <Stat
          label={t("On hold (piece)")}
          figure={formatNumber(onHold.length, 0, locale)}
          limit={t("wait for a decision")}
          tone={onHold.length > 0 ? "warn" : "plain"}
        />
        <Stat
          label={t("In repair")}
          figure={formatNumber(inRepair.length, 0, locale)}
          limit={
            unpromised > 0
              ? t("{{unpromised}} without a promised day", {
                  unpromised: formatNumber(unpromised, 0, locale),
                })
              : t("all with a promised day")
          }
        />
        <Stat
          label={t("Overdue from repair")}
          figure={formatNumber(overdue, 0, locale)}
          limit={
            overdue > 0
              ? t("their promised day is past; counted as back tomorrow")
              : t("none is past its promised day")
          }
          tone={overdue > 0 ? "problem" : "good"}
        />
        <Stat
          label={t("Dead on arrival")}
          figure={formatNumber(
            faults.filter(
              (f) => f.cause === "dead on arrival" && f.state !== "taken back" && f.state !== "released",
            ).length,
            0,
            locale,
          )}
          limit={t("in all; by supplier under Orders")}
          href="/stock?tab=orders"
        />
      </StatRow>
      <div className="mt-4 grid grid-cols-1 gap-4">
        {mayPost ? (
          <FoundForm
            today={today}
            initialItem={item}
            items={loadCatalogue(db)
              .filter((i) => i.category !== "IF cable" || drums.some((d) => d.itemCode === i.code))
              .map((i) => ({
                code: i.code,
                name: i.name,
                needsSerial: i.category === "ODU",
                isCable: i.category === "IF cable",
              }))}
            drums={drums}
            visitIds={issuedKitVisits(db)}
            places={places
              .filter((p) => p.kind !== "hold" && p.kind !== "repair")
              .map((p) => ({ code: p.code, name: p.name, kind: p.kind }))}
          />
        ) : null}
        {faults.length === 0 ? (
          <EmptyState title={t("Nothing was found faulty")}>
            {t("A crew reports a dead unit from My week, or logistics records it here.")}
          </EmptyState>
        ) : null}
        {onHold.length > 0 ? (
          <Panel title={t("On hold: {{count}} pieces", { count: onHold.length })} flush>
            <FaultTable label={t("On hold (piece)")} rows={onHold} today={today} />
          </Panel>
        ) : null}
        {inRepair.length > 0 ? (
          <Panel title={t("In repair: {{count}} pieces", { count: inRepair.length })} flush>
            <FaultTable label={t("In repair")} rows={inRepair} today={today} />
          </Panel>
        ) : null}
        {ended.length > 0 ? (
          <Panel title={t("What became of the others")} flush>
            <FaultTable label={t("Ended")} rows={ended} today={today} />
          </Panel>
        ) : null}
      </div>
    </>
  );
}
