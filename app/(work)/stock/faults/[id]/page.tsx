import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import type { ReactNode } from "react";
import { homeToday, homeZone } from "@/app/_server/clock";
import { requireRoleInRegions } from "@/app/_server/session";
import { formatAmount, formatDate, formatInstant } from "@/app/_ui/format";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { database } from "@/db/open";
import { loadFaults } from "@/db/queries/faultViews";
import { loadLedger, loadPlaces, reversalsOf } from "@/db/queries/stock";
import { LedgerRows } from "../../LedgerRows";
import { faultPath, itemPath, kitPath, STOCK_ROLES, visitWords } from "../../words";
import { FaultStateMark } from "../FaultStateMark";
import { FaultSteps } from "./FaultSteps";

export const metadata: Metadata = { title: "Faulty piece" };

const ROWS_SHOWN = 200;

interface FaultPageProps {
  params: Promise<{ id: string }>;
}

/** One faulty piece: where it stands, what may be done next, and all that ever moved its serial. */
export default async function FaultPage({ params }: FaultPageProps) {
  const visitor = await requireRoleInRegions(...STOCK_ROLES);
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
    ? loadFaults(db, { itemCode: f.itemCode }).filter((o) => o.serial === f.serial && o.id !== f.id)
    : [];
  return (
    <>
      <PageHead
        crumbs={[
          { label: "Stock", href: "/stock" },
          { label: "Faulty pieces", href: "/stock/faults" },
        ]}
        title={`Fault ${f.id}: ${f.serial ?? formatAmount(f.quantity, f.unit)}`}
        lead={`${f.itemName}, ${f.cause}: ${f.symptom}.`}
      />
      <div className="grid grid-cols-1 gap-4">
        <Panel title="Where it stands">
          <table className="ui-facts">
            <tbody>
              <Fact term="State">
                <FaultStateMark state={f.state} boxed /> since {formatDate(f.since)}
              </Fact>
              <Fact term="Place">{f.placeName ?? "outside the places"}</Fact>
              <Fact term="Item">
                <Link href={itemPath(f.itemCode)}>{f.itemCode}</Link>, the {f.owner}'s
              </Fact>
              <Fact term="Delivered by">{f.supplier || "not known"}</Fact>
              <Fact term="Found">
                {formatDate(f.foundOn)}
                {f.visitId ? (
                  <>
                    {" on "}
                    <Link href={kitPath(f.visitId)}>{visitWords(f.visitId)}</Link>
                  </>
                ) : null}
                , recorded by {f.recordedBy}, {formatInstant(f.recordedAt, homeZone(db))}
              </Fact>
              {f.reference ? <Fact term="Reference">{f.reference}</Fact> : null}
              {f.state === "in repair" ? (
                <Fact term="Expected back">
                  {f.expectedBackOn
                    ? `${formatDate(f.expectedBackOn, "weekday")}, to ${f.warehouseCode}: counted on like a delivery`
                    : "no day promised: not counted on"}
                </Fact>
              ) : null}
              {f.replacedBy ? <Fact term="In its place">{f.replacedBy}</Fact> : null}
              {others.length > 0 ? (
                <Fact term="Faulty before">
                  {others.map((o, i) => (
                    <span key={o.id}>
                      {i > 0 ? ", " : ""}
                      <Link href={faultPath(o.id)}>fault {o.id}</Link>
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
                since: f.since,
                warehouseCode: f.warehouseCode,
                expectedBackOn: f.expectedBackOn,
                reference: f.reference,
                supplier: f.supplier,
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
          title={f.serial ? `Every movement of ${f.serial}` : "Every movement of it"}
          note="Rows are never changed. A wrong step is taken back, the last one first; of an exchange both rows go back together."
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
