import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import type { ReactNode } from "react";
import { homeToday, homeZone } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { requireRoleInRegions } from "@/app/_server/session";
import { formatDate, formatInstant } from "@/app/_ui/format";
import { visitName } from "@/app/_ui/language/visitName";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { database } from "@/db/open";
import { loadFaults } from "@/db/queries/faultViews";
import { loadLedger, reversalsOf } from "@/db/queries/ledger";
import { loadPlaces } from "@/db/queries/places";
import { isSameSerial } from "@/lib/stock";
import { LedgerRows } from "../../LedgerRows";
import { faultPath, foundWords, itemPath, kitPath, ledgerPath, orderPath, STOCK_ROLES } from "../../words";
import { FaultStateMark } from "../FaultStateMark";
import { FaultSteps } from "./FaultSteps";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Faulty piece") };
}

const ROWS_SHOWN = 200;

interface FaultPageProps {
  params: Promise<{ id: string }>;
}

/** One faulty piece: where it stands, what may be done next, and all that ever moved its serial. */
export default async function FaultPage({ params }: FaultPageProps) {
  const visitor = await requireRoleInRegions(...STOCK_ROLES);
  const { t, locale, amount } = await serverWords();
  const { id } = await params;
  const db = database();
  const f = /^\d{1,9}$/.test(id) ? loadFaults(db, { id: Number(id) })[0] : undefined;
  if (!f) notFound();
  const mayPost = visitor.role === "logistics" || visitor.role === "administrator";
  const places = loadPlaces(db);
  const rows = loadLedger(
    db,
    f.serial ? { serial: f.serial, limit: ROWS_SHOWN } : { faultId: f.id, limit: ROWS_SHOWN },
  );
  const others = f.serial
    ? loadFaults(db, { itemCode: f.itemCode }).filter(
        (o) => isSameSerial(o.serial ?? "", f.serial ?? "") && o.id !== f.id,
      )
    : [];
  const rests = f.serial ? [] : loadFaults(db, { itemCode: f.itemCode }).filter((o) => o.restOf === f.id);
  return (
    <>
      <PageHead
        crumbs={[
          { label: t("Stock"), href: "/stock" },
          { label: t("Faulty pieces"), href: "/stock/faults" },
        ]}
        title={t("Fault {{id}}: {{serial}}", {
          id: String(f.id),
          serial: f.serial ?? f.drumSerial ?? amount(f.quantity, f.unit),
        })}
        lead={`${f.itemName}, ${foundWords(f, t)}: ${f.symptom}.`}
      />
      <div className="grid grid-cols-1 gap-4">
        <Panel title={t("Where it stands")}>
          <table className="ui-facts">
            <tbody>
              <Fact term={t("State")}>
                <FaultStateMark state={f.state} boxed />{" "}
                {t("since {{since}}", { since: formatDate(f.since, "full", locale) })}
              </Fact>
              <Fact term={t("Place")}>{f.placeName ?? t("outside the places")}</Fact>
              <Fact term={t("Item")}>
                <Link href={itemPath(f.itemCode)}>{f.itemCode}</Link>
                {f.owner === "customer" ? t(", the customer's") : t(", the contractor's")}
              </Fact>
              {f.drumSerial ? (
                <Fact term={t("Drum")}>
                  <Link href={ledgerPath({ drum: f.drumSerial })}>{f.drumSerial}</Link>
                  {t(", {{left}} on it: no cut is planned from it", { left: amount(f.quantity, f.unit) })}
                </Fact>
              ) : null}
              <Fact term={t("Delivered by")}>{f.supplier || t("not known")}</Fact>
              {f.orderCode ? (
                <Fact term={t("Order")}>
                  <Link href={orderPath(f.orderCode)}>{f.orderCode}</Link>
                </Fact>
              ) : null}
              <Fact term={t("Found")}>
                {formatDate(f.foundOn, "full", locale)}
                {f.visitId ? (
                  <>
                    {" "}
                    {t("on")} <Link href={kitPath(f.visitId)}>{visitName(f.visitId, t)}</Link>
                  </>
                ) : null}
                {t(", recorded by {{recordedBy}}, {{recordedAt}}", {
                  recordedBy: f.recordedBy,
                  recordedAt: formatInstant(f.recordedAt, homeZone(db), locale),
                })}
              </Fact>
              {f.restOf ? (
                <Fact term={t("Rest of")}>
                  <Link href={faultPath(f.restOf)}>{t("fault {{id}}", { id: String(f.restOf) })}</Link>
                </Fact>
              ) : null}
              {rests.length > 0 ? (
                <Fact term={t("The rest")}>
                  {rests.map((o, i) => (
                    <span key={o.id}>
                      {i > 0 ? ", " : ""}
                      <Link href={faultPath(o.id)}>{t("fault {{id}}", { id: String(o.id) })}</Link>{" "}
                      {amount(o.quantity, o.unit)}
                    </span>
                  ))}
                </Fact>
              ) : null}
              {f.reference ? <Fact term={t("Reference")}>{f.reference}</Fact> : null}
              {f.state === "in repair" ? (
                <Fact term={t("Expected back")}>
                  {f.expectedBackOn
                    ? t("{{expectedBack}}, to {{warehouse}}: counted on like a delivery", {
                        expectedBack: formatDate(f.expectedBackOn, "weekday", locale),
                        warehouse: f.warehouseCode,
                      })
                    : t("no day promised: not counted on")}
                </Fact>
              ) : null}
              {f.replacedBy ? <Fact term={t("In its place")}>{f.replacedBy}</Fact> : null}
              {others.length > 0 ? (
                <Fact term={t("Faulty before")}>
                  {others.map((o, i) => (
                    <span key={o.id}>
                      {i > 0 ? ", " : ""}
                      <Link href={faultPath(o.id)}>{t("fault {{id}}", { id: String(o.id) })}</Link>
                    </span>
                  ))}
                </Fact>
              ) : null}
            </tbody>
          </table>
          {mayPost ? (
            <FaultSteps
              fault={{
                id: f.id,
                state: f.state,
                serial: f.serial,
                drumSerial: f.drumSerial,
                orderCode: f.orderCode,
                isWrongItem: f.isWrongItem,
                isMendable: f.isMendable,
                since: f.since,
                warehouseCode: f.warehouseCode,
                expectedBackOn: f.expectedBackOn,
                reference: f.reference,
                supplier: f.supplier,
                quantity: f.quantity,
                unit: f.unit,
              }}
              today={homeToday(db)}
              warehouses={places
                .filter((p) => p.kind === "warehouse")
                .map((p) => ({ code: p.code, name: p.name }))}
              repairers={places.filter((p) => p.kind === "repair").map((p) => p.name)}
            />
          ) : null}
        </Panel>
        <Panel
          title={
            f.serial ? t("Every movement of {{serial}}", { serial: f.serial }) : t("Every movement of it")
          }
          note={t(
            "Rows are never changed. A wrong step is taken back, the last one first; of an exchange both rows go back together.",
          )}
          flush
        >
          <LedgerRows
            rows={rows}
            reversed={reversalsOf(
              db,
              rows.map((r) => r.id),
            )}
            zone={homeZone(db)}
            mayPost={mayPost}
          />
        </Panel>
      </div>
    </>
  );
}

function Fact({ term, children }: { term: string; children: ReactNode }) {
  return (
    <tr>
      <th scope="row">{term}</th>
      <td>{children}</td>
    </tr>
  );
}
