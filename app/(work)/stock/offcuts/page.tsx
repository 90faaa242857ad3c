import type { Metadata } from "next";
import Link from "next/link";
import { homeToday } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { requireRole } from "@/app/_server/session";
import { Button, DownloadButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import { DateInput } from "@/app/_ui/Field";
import { formatCm, formatDate, formatShare } from "@/app/_ui/format";
import { PageHead } from "@/app/_ui/PageHead";
import { Stat, StatRow } from "@/app/_ui/Stat";
import { database } from "@/db/open";
import { loadCatalogue } from "@/db/queries/catalogue";
import { cutByItem, loadOffcuts, loadRemnants } from "@/db/queries/offcuts";
import { rulesInForce } from "@/db/queries/programme";
import { type OffcutSum, type Remnant, type RemnantSum, sumOffcuts, sumRemnants } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import { itemPath, ledgerPath, moneyWords, STOCK_ROLES } from "../words";
import { ScrapButton } from "./ScrapButton";
import { type SumRow, SumTable } from "./SumTable";
import { classWords, daysOf } from "./words";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Offcuts") };
}

interface OffcutsPageProps {
  searchParams: Promise<{ from?: string; to?: string }>;
}

/** What cable that no run used has cost, why, and what still lies on the rack. */
export default async function OffcutsPage({ searchParams }: OffcutsPageProps) {
  const visitor = await requireRole(...STOCK_ROLES);
  const words = await serverWords();
  const { t, locale } = words;
  const db = database();
  const { from, to } = daysOf(await searchParams, homeToday(db));
  const offcuts = loadOffcuts(db, from, to);
  const cut = cutByItem(db, from, to);
  const remnants = loadRemnants(db);
  const minUsefulC = rulesInForce(db).cutPolicy.minUsefulCm;
  const names = new Map(loadCatalogue(db).map((i) => [i.code, i.name]));
  const [lostC, cutC, rackC] = [
    offcuts.reduce((sum, o) => sum + o.lengthC, 0),
    [...cut.values()].reduce((sum, c) => sum + c, 0),
    remnants.reduce((sum, r) => sum + r.remainingC, 0),
  ];
  const items = sumOffcuts(offcuts, ["itemCode"]);
  const rack = sumRemnants(remnants, minUsefulC);
  const short = remnants.filter((r) => r.remainingC < minUsefulC);
  const mayScrap = visitor.role === "logistics" || visitor.role === "administrator";
  const file = (format: string) => `/stock/offcuts/file?${new URLSearchParams({ from, to, format })}`;
  return (
    <>
      <PageHead
        crumbs={[{ label: t("Stock"), href: "/stock" }]}
        title={t("Offcuts")}
        lead={t(
          "Cable that no run used, {{from}} to {{to}}: in metres, and in money at the catalogue's price of today.",
          { from: formatDate(from, "full", locale), to: formatDate(to, "full", locale) },
        )}
        actions={
          <>
            <DownloadButton href={file("csv")}>{t("Export CSV")}</DownloadButton>
            <DownloadButton href={file("xlsx")}>{t("Export workbook")}</DownloadButton>
          </>
        }
      />
      <StatRow>
        <Stat
          label={t("Lost")}
          figure={formatCm(lostC, locale)}
          limit={moneyWords(
            items.map((s) => ({ minor: s.valueMinor, currency: s.currency })),
            words,
          )}
        />
        <Stat
          label={t("Of what was cut")}
          figure={cutC > 0 ? formatShare(lostC / cutC, 1, locale) : "–"}
          limit={t("{{cut}} cut for runs", { cut: formatCm(cutC, locale) })}
        />
        <Stat
          label={t("Left on begun drums")}
          figure={formatCm(rackC, locale)}
          limit={`${t("{{count}} drums", { count: remnants.length })}, ${moneyWords(
            rack.map((r) => ({ minor: r.valueMinor, currency: r.currency })),
            words,
          )}`}
        />
        <Stat
          label={t("Too short to use")}
          figure={t("{{count}} drums", { count: short.length })}
          limit={t("below {{minUseful}}", { minUseful: formatCm(minUsefulC, locale) })}
          tone={short.length > 0 ? "warn" : "good"}
        />
      </StatRow>
      <form className="ui-form ui-no-print mt-4" method="get">
        <div className="ui-form-row">
          <DateInput label={t("From")} name="from" defaultValue={from} />
          <DateInput label={t("To")} name="to" defaultValue={to} />
        </div>
        <div className="ui-form-actions">
          <Button type="submit">{t("Show these days")}</Button>
        </div>
      </form>
      <div className="mt-4 grid grid-cols-1 gap-4">
        {offcuts.length === 0 ? (
          <EmptyState title={t("Nothing was lost in these days")}>
            {t("Saw allowances, scrapped remnants and what crews report as left of a run stand here.")}
          </EmptyState>
        ) : (
          <Losses
            items={items}
            reasons={sumOffcuts(offcuts, ["reason"])}
            months={sumOffcuts(offcuts, ["month", "itemCode", "reason"])}
            cut={cut}
            names={names}
          />
        )}
        <Rack rack={rack} remnants={remnants} names={names} mayScrap={mayScrap} />
      </div>
    </>
  );
}

type Names = ReadonlyMap<string, string>;

const itemWords = (code: string, names: Names) => (
  <>
    <Link href={itemPath(code)}>{code}</Link> <small>{names.get(code)}</small>
  </>
);

const sumRow = (s: OffcutSum, words: SumRow["words"]): SumRow => ({
  key: `${s.month} ${s.itemCode} ${s.reason} ${s.currency}`,
  words,
  count: s.pieces,
  lengthC: s.lengthC,
  valueMinor: s.valueMinor,
  currency: s.currency,
});

interface LossesProps {
  items: readonly OffcutSum[];
  reasons: readonly OffcutSum[];
  months: readonly OffcutSum[];
  cut: ReadonlyMap<string, number>;
  names: Names;
}

async function Losses({ items, reasons, months, cut, names }: LossesProps) {
  const { t, locale } = await serverWords();
  return (
    <>
      <SumTable
        title={t("By cable")}
        heads={[t("Cable")]}
        countHead={t("Pieces")}
        moreHead={t("Of what was cut")}
        rows={items.map((s) => {
          const cutC = cut.get(s.itemCode) ?? 0;
          return {
            ...sumRow(s, [itemWords(s.itemCode, names)]),
            more: cutC > 0 ? formatShare(s.lengthC / cutC, 1, locale) : t("nothing cut"),
          };
        })}
      />
      <SumTable
        title={t("By reason")}
        note={t(
          "The saw allowance is what the cutting rules give every cut; left at the site is what crews report of their runs; lost after the cut are pieces that went astray or were spoilt.",
        )}
        heads={[t("Reason")]}
        countHead={t("Pieces")}
        rows={reasons.map((s) => sumRow(s, [t(s.reason)]))}
      />
      <SumTable
        title={t("By month, cable and reason")}
        heads={[t("Month"), t("Cable"), t("Reason")]}
        countHead={t("Pieces")}
        rows={months.map((s) =>
          sumRow(s, [
            formatDate(`${s.month}-01` as CalendarDate, "month", locale),
            itemWords(s.itemCode, names),
            t(s.reason),
          ]),
        )}
      />
    </>
  );
}

interface RackProps {
  rack: readonly RemnantSum[];
  remnants: readonly Remnant[];
  names: Names;
  mayScrap: boolean;
}

async function Rack({ rack, remnants, names, mayScrap }: RackProps) {
  const words = await serverWords();
  const { t } = words;
  if (remnants.length === 0)
    return (
      <EmptyState title={t("No begun drum on the rack")}>
        {t("A drum stands here once something was cut from it and something is left.")}
      </EmptyState>
    );
  return (
    <>
      <SumTable
        title={t("Begun drums by what is left")}
        note={t(
          "Every begun drum on hand, whatever the days above: also those that cuts still go on. What is too short follows the cutting rules.",
        )}
        heads={[t("Cable"), t("Length left")]}
        countHead={t("Drums")}
        rows={rack.map((r) => ({
          key: `${r.itemCode} ${r.fromC}`,
          words: [itemWords(r.itemCode, names), classWords(r, words)],
          count: r.drums,
          lengthC: r.lengthC,
          valueMinor: r.valueMinor,
          currency: r.currency,
        }))}
      />
      <SumTable
        title={t("Begun drums, the shortest rest first")}
        note={t("A planned cut may still want one: see the cutting list before you scrap it.")}
        heads={[t("Drum"), t("Cable"), t("Place")]}
        countHead={t("Drums")}
        moreHead={mayScrap ? t("Scrap") : undefined}
        rows={remnants.map((r) => ({
          key: r.serial,
          words: [
            <Link key="drum" href={ledgerPath({ drum: r.serial })}>
              {r.serial}
            </Link>,
            r.itemCode,
            r.placeCode,
          ],
          count: 1,
          lengthC: r.remainingC,
          valueMinor: Math.round((r.remainingC * r.priceMinor) / 100),
          currency: r.currency,
          // More than half a drum is no remnant yet, and no press away from scrap.
          more:
            r.remainingC * 2 > r.receivedC ? (
              t("part-used drum")
            ) : (
              <ScrapButton serial={r.serial} remainingC={r.remainingC} />
            ),
        }))}
      />
    </>
  );
}
