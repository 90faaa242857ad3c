import type { Metadata } from "next";
import Link from "next/link";
import { redirect } from "next/navigation";
import { homeToday } from "@/app/_server/clock";
import { requireRoleInRegions } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { formatAmount, formatCm, formatCount, formatDate } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { type Db, database } from "@/db/open";
import { type Scanned, whatIsScanned } from "@/db/queries/labels";
import { planInForce } from "@/db/queries/plans";
import { rulesInForce } from "@/db/queries/programme";
import { loadOnHandRows } from "@/db/queries/stockViews";
import { labelText } from "@/lib/labels";
import { CutButton } from "../CutButton";
import { itemPath, kitPath, ledgerPath, STOCK_ROLES, visitWords } from "../words";
import { ScanBar } from "./ScanBar";

export const metadata: Metadata = { title: "Scan" };

/** What is this, and what is to be done with it: a drum and its next cut, a place and what lies there, a kit, an item. */
export default async function ScanPage({ searchParams }: { searchParams: Promise<{ code?: string }> }) {
  const visitor = await requireRoleInRegions(...STOCK_ROLES);
  const { code } = await searchParams;
  const db = database();
  const found = code ? whatIsScanned(db, planInForce(db), code) : undefined;
  if (found?.kind === "kit") redirect(kitPath(found.code));
  if (found?.kind === "item") redirect(itemPath(found.code));
  if (found?.kind === "lot") redirect(itemPath(found.itemCode));
  const mayCut = visitor.role === "logistics" || visitor.role === "administrator";
  return (
    <>
      <PageHead
        title="Scan"
        crumbs={[{ label: "Stock", href: "/stock" }]}
        lead="A drum shows its next cut, a place what lies there; a kit and an item open."
        actions={<LinkButton href="/stock/labels">Print labels</LinkButton>}
      />
      <div className="grid max-w-3xl grid-cols-1 gap-4">
        <ScanBar />
        {found?.kind === "unknown" ? (
          <Notice kind="problem" announce title={`Nothing here is called "${found.code.slice(0, 80)}"`}>
            Scan it again. If signs such as : or - come out as others, set the scanner to the keyboard of this
            device.
          </Notice>
        ) : null}
        {found?.kind === "drum" ? <DrumCard db={db} drum={found} mayCut={mayCut} /> : null}
        {found?.kind === "place" ? <PlaceCard db={db} place={found} /> : null}
      </div>
    </>
  );
}

function DrumCard({
  db,
  drum,
  mayCut,
}: {
  db: Db;
  drum: Extract<Scanned, { kind: "drum" }>;
  mayCut: boolean;
}) {
  const sawCm = rulesInForce(db).cutPolicy.sawAllowanceCm;
  const [next, ...later] = drum.cuts;
  const label = next?.runId.replaceAll("/", " ");
  return (
    <Panel
      title={`Drum ${drum.code}`}
      note={`${drum.itemCode} ${drum.itemName}. ${
        drum.placeCode
          ? `${formatCm(drum.remainingC)} of ${formatCm(drum.receivedC)} left, at ${drum.placeCode}.`
          : "Used up."
      }`}
      actions={<Link href={ledgerPath({ drum: drum.code })}>Its rows in the ledger</Link>}
    >
      {next && drum.placeCode ? (
        <div className="grid gap-3">
          <p>
            <strong>Next cut: {label}</strong>, {formatCm(next.lengthCm)} from mark{" "}
            {formatCm(next.fromMarkCm)}, on {formatDate(next.cutOn, "weekday")}
            {next.visitId ? (
              <>
                , for the kit <Link href={kitPath(next.visitId)}>{visitWords(next.visitId)}</Link>
              </>
            ) : null}
            .
          </p>
          {mayCut ? (
            <div>
              <CutButton
                drumSerial={drum.code}
                runId={next.runId}
                label={label ?? ""}
                lengthCm={next.lengthCm}
                fromMarkCm={next.fromMarkCm}
                sawCm={sawCm}
                scanned={labelText({ kind: "drum", code: drum.code })}
              />
            </div>
          ) : null}
          {later.length > 0 ? (
            <p className="text-quiet">{formatCount(later.length, "later cut")} on the list.</p>
          ) : null}
        </div>
      ) : (
        <p>The cutting list wants nothing of it.</p>
      )}
    </Panel>
  );
}

function PlaceCard({ db, place }: { db: Db; place: Extract<Scanned, { kind: "place" }> }) {
  const rows = loadOnHandRows(db, homeToday(db)).filter((r) => r.placeCode === place.code);
  return (
    <Panel
      title={`${place.code} ${place.name}`}
      note={`${place.placeKind}, ${formatCount(rows.length, "row")}`}
      flush
    >
      {rows.length === 0 ? (
        <p className="px-4 py-3">Nothing lies here.</p>
      ) : (
        <ScrollRegion label={`What lies at ${place.code}`} className="max-md:px-4">
          <table className="ui-facts ui-facts-stack">
            <thead>
              <tr>
                <th scope="col">Item</th>
                <th scope="col">Lot or drum</th>
                <th scope="col" data-align="end">
                  On hand
                </th>
              </tr>
            </thead>
            <tbody>
              {rows.map((r) => (
                <tr key={`${r.itemCode} ${r.lotCode} ${r.drumSerial} ${r.owner}`}>
                  <th scope="row" data-label="Item">
                    <Link href={itemPath(r.itemCode)}>{r.itemCode}</Link> <small>{r.name}</small>
                  </th>
                  <td data-label="Lot or drum">{r.drumSerial || r.lotCode || "–"}</td>
                  <td data-label="On hand" data-align="end">
                    {formatAmount(r.quantity, r.unit)}
                    {r.isExpired ? " expired" : ""}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </ScrollRegion>
      )}
    </Panel>
  );
}
