import type { Metadata } from "next";
import Link from "next/link";
import { redirect } from "next/navigation";
import { homeToday } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { requireRoleInRegions } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { formatCm, formatDate } from "@/app/_ui/format";
import { visitName } from "@/app/_ui/language/visitName";
import { Notice } from "@/app/_ui/Notice";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { type Db, database } from "@/db/open";
import { type Scanned, whatIsScanned } from "@/db/queries/labels";
import { loadOnHandRows } from "@/db/queries/onHand";
import { planInForce } from "@/db/queries/plans";
import { rulesInForce } from "@/db/queries/programme";
import { labelText } from "@/lib/labels";
import { CutButton } from "../CutButton";
import { faultPath, itemPath, kitPath, ledgerPath, orderPath, STOCK_ROLES } from "../words";
import { ScanBar } from "./ScanBar";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Scan") };
}

/** What is this, and what is to be done with it: a drum and its next cut, a place and what lies there, a kit, an item. */
export default async function ScanPage({ searchParams }: { searchParams: Promise<{ code?: string }> }) {
  const visitor = await requireRoleInRegions(...STOCK_ROLES);
  const { t } = await serverWords();
  const { code } = await searchParams;
  const db = database();
  const found = code ? whatIsScanned(db, planInForce(db), code) : undefined;
  if (found?.kind === "kit") redirect(kitPath(found.code));
  if (found?.kind === "item") redirect(itemPath(found.code));
  if (found?.kind === "lot") redirect(itemPath(found.itemCode));
  if (found?.kind === "order") redirect(orderPath(found.code));
  if (found?.kind === "serial")
    redirect(found.faultId === null ? ledgerPath({ serial: found.code }) : faultPath(found.faultId));
  const mayCut = visitor.role === "logistics" || visitor.role === "administrator";
  return (
    <>
      <PageHead
        title={t("Scan")}
        crumbs={[{ label: t("Stock"), href: "/stock" }]}
        lead={t(
          "A drum shows its next cut, a place what lies there; a kit, an item, an order and a serial open.",
        )}
        actions={<LinkButton href="/stock/labels">{t("Print labels")}</LinkButton>}
      />
      <div className="grid max-w-3xl grid-cols-1 gap-4">
        <ScanBar />
        {found?.kind === "unknown" ? (
          <Notice
            kind="problem"
            announce
            title={t("Nothing here is called {{what}}", { what: `"${found.code.slice(0, 80)}"` })}
          >
            {t(
              "Scan it again. If signs such as : or - come out as others, set the scanner to the keyboard of this device.",
            )}
          </Notice>
        ) : null}
        {found?.kind === "drum" ? <DrumCard db={db} drum={found} mayCut={mayCut} /> : null}
        {found?.kind === "place" ? <PlaceCard db={db} place={found} /> : null}
      </div>
    </>
  );
}

async function DrumCard({
  db,
  drum,
  mayCut,
}: {
  db: Db;
  drum: Extract<Scanned, { kind: "drum" }>;
  mayCut: boolean;
}) {
  const { t, locale } = await serverWords();
  const sawCm = rulesInForce(db).cutPolicy.sawAllowanceCm;
  const [next, ...later] = drum.cuts;
  const label = next?.runId.replaceAll("/", " ");
  return (
    <Panel
      title={t("Drum {{code}}", { code: drum.code })}
      note={`${drum.itemCode} ${drum.itemName}. ${drum.placeCode ? t("{{remaining}} of {{received}} left, at {{place}}.", { remaining: formatCm(drum.remainingC, locale), received: formatCm(drum.receivedC, locale), place: drum.placeCode }) : t("Used up.")}`}
      actions={<Link href={ledgerPath({ drum: drum.code })}>{t("Its rows in the ledger")}</Link>}
    >
      {next && drum.placeCode ? (
        <div className="grid gap-3">
          <p>
            <strong>{t("Next cut: {{label}}", { label: label ?? "" })}</strong>
            {t(", {{length}} from mark {{fromMark}}, on {{cut}}", {
              length: formatCm(next.lengthCm, locale),
              fromMark: formatCm(next.fromMarkCm, locale),
              cut: formatDate(next.cutOn, "weekday", locale),
            })}
            {next.visitId ? (
              <>
                {t(", for the kit")} <Link href={kitPath(next.visitId)}>{visitName(next.visitId, t)}</Link>
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
                standsAt={drum.placeCode}
                kitPlace={next.kitPlace}
                scanned={labelText({ kind: "drum", code: drum.code })}
              />
            </div>
          ) : null}
          {later.length > 0 ? (
            <p className="text-quiet">{t("{{count}} later cuts on the list.", { count: later.length })}</p>
          ) : null}
        </div>
      ) : (
        <p>{t("The cutting list wants nothing of it.")}</p>
      )}
    </Panel>
  );
}

async function PlaceCard({ db, place }: { db: Db; place: Extract<Scanned, { kind: "place" }> }) {
  const { t, amount } = await serverWords();
  const rows = loadOnHandRows(db, homeToday(db), { placeCode: place.code });
  return (
    <Panel
      title={`${place.code} ${place.name}`}
      note={`${t(place.placeKind)}, ${t("{{count}} rows", { count: rows.length })}`}
      flush
    >
      {rows.length === 0 ? (
        <p className="px-4 py-3">{t("Nothing lies here.")}</p>
      ) : (
        <ScrollRegion label={t("What lies at {{code}}", { code: place.code })} className="max-md:px-4">
          <table className="ui-facts ui-facts-stack">
            <thead>
              <tr>
                <th scope="col">{t("Item")}</th>
                <th scope="col">{t("Lot or drum")}</th>
                <th scope="col" data-align="end">
                  {t("On hand")}
                </th>
              </tr>
            </thead>
            <tbody>
              {rows.map((r) => (
                <tr key={`${r.itemCode} ${r.lotCode} ${r.drumSerial} ${r.owner}`}>
                  <th scope="row" data-label={t("Item")}>
                    <Link href={itemPath(r.itemCode)}>{r.itemCode}</Link> <small>{r.name}</small>
                  </th>
                  <td data-label={t("Lot or drum")}>{r.drumSerial || r.lotCode || "–"}</td>
                  <td data-label={t("On hand")} data-align="end">
                    {amount(r.quantity, r.unit)}
                    {r.isExpired ? ` ${t("expired")}` : ""}
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
