import type { Metadata } from "next";
import Link from "next/link";
import { Fragment } from "react";
import { serverWords } from "@/app/_server/language";
import { requireRole } from "@/app/_server/session";
import { Disclosure } from "@/app/_ui/Disclosure";
import { EmptyState } from "@/app/_ui/EmptyState";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import { database } from "@/db/open";
import { loadCatalogue } from "@/db/queries/catalogue";
import { loadCloseOut } from "@/db/queries/closeOut";
import { type HungUnit, loadHung } from "@/db/queries/hung";
import { loadProgrammeState } from "@/db/queries/progress";
import type { CloseOutLine } from "@/lib/stock";
import { amountC, itemPath, STOCK_ROLES, serialPath } from "../words";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Close-out") };
}

/** Hop by hop: issued = installed + returned + scrapped, and what does not add up. */
export default async function CloseOutPage() {
  await requireRole(...STOCK_ROLES);
  const { t } = await serverWords();
  const db = database();
  const units = new Map(loadCatalogue(db).map((i) => [i.code, { name: i.name, unit: i.unit }]));
  const states = new Map(loadProgrammeState(db).hops.map((h) => [h.hopCode, h.state]));
  const hung = loadHung(db, { onlyStanding: true });
  const hops = loadCloseOut(db).map((h) => {
    const state = states.get(h.hopCode);
    return { ...h, isWorked: state === "done" || state === "to accept" };
  });
  const worked = hops.filter((h) => h.isWorked);
  const running = hops.filter((h) => !h.isWorked);
  const mismatch = worked.filter((h) => h.openLines > 0);
  return (
    <>
      <PageHead
        crumbs={[{ label: t("Stock"), href: "/stock" }]}
        title={t("Close-out")}
        lead={t(
          "What went out for a hop must come to what was installed, returned and scrapped; a piece that went on hold as faulty has come back. Of cable: what was cut for its runs, and what the crew reported used and left.",
        )}
      />
      {hops.length === 0 ? (
        <EmptyState title={t("Nothing has gone out for any hop yet")}>
          {t("Once a kit is issued or a run is cut, its hop stands here until everything is accounted for.")}
        </EmptyState>
      ) : (
        <div className="grid grid-cols-1 gap-4">
          <Panel
            title={
              mismatch.length === 0
                ? t("Every finished hop adds up")
                : t("{{count}} finished hops do not add up", { count: mismatch.length })
            }
            note={t(
              "{{count}} hops finished with material from the ledger. What is open lies on the vehicle, or was used without a report: return it on the kit's page, or record scrap for the visit.",
              { count: worked.length },
            )}
            flush
          >
            {worked.map((h) => (
              <Hop key={h.hopCode} {...h} open={h.openLines > 0} units={units} hung={hung} />
            ))}
          </Panel>
          {running.length > 0 ? (
            <Panel
              title={t("{{count}} hops in work", { count: running.length })}
              note={t("Open quantities are on the way to the tower.")}
              flush
            >
              {running.map((h) => (
                <Hop key={h.hopCode} {...h} open={false} units={units} hung={hung} />
              ))}
            </Panel>
          ) : null}
        </div>
      )}
    </>
  );
}

interface HopProps {
  hopCode: string;
  lines: readonly CloseOutLine[];
  openLines: number;
  open: boolean;
  units: ReadonlyMap<string, { name: string; unit: string }>;
  /** Radios that hang by serial. */
  hung: readonly HungUnit[];
}

/** Of what is installed the pieces whose serials were read. */
function Serials({ of }: { of: readonly HungUnit[] }) {
  if (of.length === 0) return null;
  return (
    <small>
      {of.map((h) => (
        <Fragment key={h.id}>
          {" "}
          <Link href={serialPath(h.serial)}>{h.serial}</Link>
        </Fragment>
      ))}
    </small>
  );
}

async function Hop({ hopCode, lines, openLines, open, units, hung }: HopProps) {
  const words = await serverWords();
  const { t } = words;
  return (
    <Disclosure
      open={open}
      summary={
        <>
          {hopCode}:{" "}
          {openLines === 0
            ? t("all {{count}} items accounted for", { count: lines.length })
            : t("{{openLines}} of {{count}} items open", { openLines, count: lines.length })}
        </>
      }
    >
      <p>
        <Link href={`/hops/${encodeURIComponent(hopCode)}`}>{t("Hop {{hop}}", { hop: hopCode })}</Link>
      </p>
      <ScrollRegion label={t("Material of {{hop}}", { hop: hopCode })}>
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              <th scope="col">{t("Item")}</th>
              {[t("Issued"), t("Installed"), t("Returned"), t("Scrapped")].map((word) => (
                <th key={word} scope="col" data-align="end">
                  {word}
                </th>
              ))}
              <th scope="col">{t("Adds up?")}</th>
            </tr>
          </thead>
          <tbody>
            {lines.map((l) => {
              const { name, unit } = units.get(l.itemCode) ?? { name: "", unit: "piece" };
              return (
                <tr key={l.itemCode}>
                  <th scope="row" data-label={t("Item")}>
                    <Link href={itemPath(l.itemCode)}>{l.itemCode}</Link> <small>{name}</small>
                  </th>
                  <td data-label={t("Issued")} data-align="end">
                    {amountC(l.issuedC, unit, words)}
                  </td>
                  <td data-label={t("Installed")} data-align="end">
                    {amountC(l.installedC, unit, words)}
                    <Serials of={hung.filter((h) => h.hopCode === hopCode && h.itemCode === l.itemCode)} />
                  </td>
                  <td data-label={t("Returned")} data-align="end">
                    {amountC(l.returnedC, unit, words)}
                  </td>
                  <td data-label={t("Scrapped")} data-align="end">
                    {amountC(l.scrappedC, unit, words)}
                  </td>
                  <td data-label={t("Adds up?")}>
                    {l.openC === 0 ? (
                      <StateMark state="met">{t("yes")}</StateMark>
                    ) : l.openC > 0 ? (
                      <StateMark state="warn">
                        {t("{{open}} open", { open: amountC(l.openC, unit, words) })}
                      </StateMark>
                    ) : (
                      <StateMark state="short">
                        {t("{{open}} more than issued", { open: amountC(-l.openC, unit, words) })}
                      </StateMark>
                    )}
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </ScrollRegion>
    </Disclosure>
  );
}
