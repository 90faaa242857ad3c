import type { Metadata } from "next";
import { homeToday } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { seesHop } from "@/app/_server/regions";
import { requireRoleInRegions } from "@/app/_server/session";
import { Button, LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import { DateInput, NumberInput, Select } from "@/app/_ui/Field";
import { formatDate } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { PrintButton } from "@/app/_ui/PrintButton";
import { Tabs } from "@/app/_ui/Tabs";
import { database } from "@/db/open";
import { type LabelRow, labelRows } from "@/db/queries/labels";
import { loadPlaces } from "@/db/queries/places";
import { planInForce } from "@/db/queries/plans";
import { LABEL_KINDS, LABEL_SHEETS, perSheet } from "@/lib/labels";
import { addDays } from "@/lib/time";
import { STOCK_ROLES } from "../words";
import { Sheets } from "./Sheets";
import { KIND_WORDS, LABELS_MOST, type LabelPage, labelPage } from "./wish";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Labels") };
}

/** Kits of the coming days, unless days are asked for. */
const KIT_DAYS = 7;

interface LabelsPageProps {
  searchParams: Promise<Record<string, string | undefined>>;
}

/** Labels with QR codes on A4 paper, for what is scanned later: drums, places, kits, shelves. */
export default async function LabelsPage({ searchParams }: LabelsPageProps) {
  const visitor = await requireRoleInRegions(...STOCK_ROLES);
  const { t, locale } = await serverWords();
  const db = database();
  const today = homeToday(db);
  const asked = labelPage(await searchParams);
  const { kind } = asked.wish;
  const wish =
    kind === "kit" && !asked.wish.code
      ? { ...asked.wish, from: asked.wish.from ?? today, to: asked.wish.to ?? addDays(today, KIT_DAYS) }
      : asked.wish;
  const rows = labelRows(db, planInForce(db), wish, (day, style) => formatDate(day, style, locale)).filter(
    (r) => !r.hopCode || seesHop(db, visitor, r.hopCode),
  );
  const most = LABELS_MOST;
  const shown = rows.slice(0, LABELS_MOST);
  return (
    <>
      <PageHead
        title={t("Labels")}
        crumbs={[{ label: t("Stock"), href: "/stock" }]}
        lead={t("With a QR code that the scan page, a kit's pick list and the cut dialog understand.")}
        actions={
          <>
            <LinkButton href="/stock/scan">{t("Scan")}</LinkButton>
            {shown.length > 0 ? <PrintButton /> : null}
          </>
        }
      />
      <Tabs
        label={t("What the labels are for")}
        tabs={LABEL_KINDS.map((k) => ({
          href: `/stock/labels?kind=${k}&size=${asked.size}`,
          label: t(KIND_WORDS[k]),
          current: k === kind,
        }))}
      />
      <div className="ui-no-print mb-4 grid gap-4">
        <Choices
          asked={{ ...asked, wish }}
          warehouses={loadPlaces(db)
            .filter((p) => p.kind !== "site")
            .map((p) => ({ value: p.code, label: `${p.code} ${p.name}` }))}
        />
        {rows.length > shown.length ? (
          <Notice kind="warn">
            {t("{{count}} labels fit; the first {{most}} are shown. Narrow the choice for the others.", {
              count: rows.length,
              most,
            })}
          </Notice>
        ) : null}
      </div>
      <Preview rows={shown} asked={asked} />
    </>
  );
}

interface ChoicesProps {
  asked: LabelPage;
  warehouses: readonly { value: string; label: string }[];
}

async function Choices({ asked: { wish, size, used }, warehouses }: ChoicesProps) {
  const { t } = await serverWords();
  return (
    <Panel
      title={t("Choose")}
      note={t(
        "Print at 100 %, without fitting to the page, and hold the first sheet against your label paper.",
      )}
    >
      <form className="ui-form" method="get">
        <input type="hidden" name="kind" value={wish.kind} />
        {wish.code ? <input type="hidden" name="code" value={wish.code} /> : null}
        <div className="ui-form-row">
          <Select
            label={t("Label paper")}
            name="size"
            defaultValue={size}
            choices={Object.entries(LABEL_SHEETS).map(([value, s]) => ({ value, label: t(s.name) }))}
          />
          <NumberInput
            label={t("Labels gone from the first sheet")}
            name="used"
            min={0}
            max={perSheet(LABEL_SHEETS[size]) - 1}
            step={1}
            defaultValue={used}
          />
          {wish.kind === "drum" ? (
            <Select
              label={t("Place")}
              name="place"
              empty={t("All places")}
              defaultValue={wish.placeCode ?? ""}
              choices={warehouses}
            />
          ) : null}
          {wish.kind === "kit" ? (
            <>
              <DateInput label={t("Picked from")} name="from" defaultValue={wish.from} />
              <DateInput label={t("Picked to")} name="to" defaultValue={wish.to} />
            </>
          ) : null}
        </div>
        <div className="ui-form-actions">
          <Button type="submit">{t("Show the labels")}</Button>
        </div>
      </form>
    </Panel>
  );
}

async function Preview({ rows, asked }: { rows: readonly LabelRow[]; asked: LabelPage }) {
  const { t } = await serverWords();
  if (rows.length === 0)
    return (
      <EmptyState title={t("No label to print")} level={2}>
        {asked.wish.kind === "kit"
          ? t("No kit is picked on these days. Choose others.")
          : t("Nothing fits the choice. Widen it, or receive stock first.")}
      </EmptyState>
    );
  return <Sheets rows={rows} size={asked.size} used={asked.used} />;
}
