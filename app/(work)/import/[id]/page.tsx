import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { homeZone } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { requireRole } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { formatInstant, formatNumber } from "@/app/_ui/format";
import { messageOf, remedyOf } from "@/app/_ui/language/problemWords";
import type { Words } from "@/app/_ui/language/words";
import { Notice } from "@/app/_ui/Notice";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { Stat, StatRow } from "@/app/_ui/Stat";
import { StateMark } from "@/app/_ui/StateMark";
import { type Db, database } from "@/db/open";
import {
  type ImportHead,
  type ImportSummary,
  importById,
  importFiles,
  isUnreadable,
  type TableHead,
} from "@/db/queries/imports";
import { ENDED, jobById } from "@/db/queries/jobs";
import { type ExchangeProblem, KIND_NAMES } from "@/lib/exchange";
import { phrase } from "@/lib/phrase";
import { type Problem, sentences } from "@/lib/result";
import { asksOf, hourCounts, stateOfImport, storedWords } from "../importWords";
import { IMPORTERS, kindWords } from "../kinds";
import { FindingWords, RemedyWords } from "./FindingWords";
import { ImportActions } from "./ImportActions";
import { JobWatch } from "./JobWatch";
import { RowsTable } from "./RowsTable";
import { TableCard } from "./TableCard";
import { UnknownTable } from "./UnknownTables";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Import") };
}

export default async function ImportOnePage({ params }: { params: Promise<{ id: string }> }) {
  const words = await serverWords();
  const { t, locale } = words;
  await requireRole(...IMPORTERS);
  const db = database();
  const { id } = await params;
  const run = importById(db, id);
  if (!run) notFound();
  const files = importFiles(db, id);
  const { summary } = run;
  const { tables = [], totals } = summary;
  const job = jobOf(db, run);
  const isOpen = (run.state === "read" || run.state === "previewed") && !job.activeId;
  const kinds = KIND_NAMES.map(kindWords);
  const state = stateOfImport(run);
  const hours = hourCounts(tables);
  const hasHours = tables.some((t) => t.weather);
  // One table that was read is enough for a yes or a no; without any there is nothing to say it to.
  const isRead = !summary.digest || tables.some((t) => t.totals || t.weather);
  const refusedHours = tables.reduce((sum, t) => sum + (t.weather?.refusedRows ?? 0), 0);
  const refused = (totals?.refused ?? 0) + refusedHours;
  const asking = isOpen ? tables.filter(asksOf) : [];
  const card = (table: TableHead) => (
    <TableCard
      // A new preview starts the form anew.
      key={`${table.seq} ${table.sheet ?? ""} ${summary.digest} ${JSON.stringify(table.matching)}`}
      importId={id}
      table={table}
      answers={files.find((f) => f.seq === table.seq)?.answers[table.sheet ?? ""] ?? {}}
      kinds={kinds}
      isOpen={isOpen}
      hasRefused={(table.totals?.refused ?? 0) + (table.weather?.refusedRows ?? 0) > 0}
    />
  );
  const counted = (count: number, does: string) =>
    hasHours && count > 0 ? `${does}; ${t("{{count}} of them are weather hours", { count })}` : does;
  const leftOut = files.flatMap((f) =>
    Object.entries(f.answers).flatMap(([sheet, a]) => (a.isLeftOut ? [{ file: f, sheet }] : [])),
  );
  return (
    <>
      <PageHead
        title={files.length === 1 ? files[0]!.fileName : t("{{count}} files", { count: files.length })}
        crumbs={[{ label: t("Bring in"), href: "/import" }]}
        marks={
          <StateMark state={state.state} boxed>
            {t(state.word)}
          </StateMark>
        }
        lead={t("From {{name}}, {{when}}.", {
          name: run.createdBy,
          when: formatInstant(run.createdAt, homeZone(db), locale),
        })}
      />
      <div className="grid gap-4">
        {job.activeId ? (
          <Panel title={t("Under way")}>
            <JobWatch key={job.activeId} jobId={job.activeId} />
          </Panel>
        ) : null}
        {job.notices.map((n) => (
          <Notice key={n.message} kind="problem" announce title={messageOf(n, words)}>
            {remedyOf(n, words)}
          </Notice>
        ))}
        {summary.stored ? <Stored stored={summary.stored} /> : null}
        {run.state === "discarded" && isUnreadable(summary) ? (
          <Notice kind="problem" announce title={t("Nothing in this import can be brought in")}>
            {t("What is wrong stands below. Correct the file and choose it anew; nothing was stored.")}{" "}
            <Link href="/import">{t("Bring files in")}</Link>.
          </Notice>
        ) : run.state === "discarded" ? (
          <Notice kind="info" title={t("This import was discarded")}>
            {t("Nothing was stored, and its files are forgotten.")}{" "}
            <Link href="/import">{t("Bring files in")}</Link>.
          </Notice>
        ) : null}
        {totals && run.state !== "discarded" ? (
          <StatRow>
            <Stat
              label={t("New")}
              figure={formatNumber(totals.new + hours.new, 0, locale)}
              limit={
                asking.some((a) => a.weather)
                  ? t("without the hours that wait for an answer")
                  : counted(hours.new, summary.stored ? t("added") : t("will be added"))
              }
            />
            <Stat
              label={t("Changed")}
              figure={formatNumber(totals.changed + hours.changed, 0, locale)}
              limit={counted(
                hours.changed,
                summary.stored ? t("brought to the file's state") : t("will be brought to the file's state"),
              )}
            />
            <Stat
              label={t("Same")}
              figure={formatNumber(totals.same + hours.same, 0, locale)}
              limit={counted(hours.same, t("stand already"))}
            />
            <Stat
              label={t("Refused")}
              figure={formatNumber(refused, 0, locale)}
              limit={refused > 0 ? t("stay out; see why below") : t("none")}
              tone={refused > 0 ? "problem" : "plain"}
            />
            <Stat
              label={t("Not in the files")}
              figure={formatNumber(totals.notInFile, 0, locale)}
              limit={t("stay as they are")}
            />
          </StatRow>
        ) : null}
        {asking.map(card)}
        {isOpen ? (
          <ImportActions
            importId={id}
            digest={summary.digest}
            rows={(totals?.new ?? 0) + (totals?.changed ?? 0)}
            hours={hours.new + hours.changed}
            isRead={isRead}
            asks={asking.length > 0}
            refused={refused}
          />
        ) : null}
        {isOpen
          ? unknownTables(summary, files, words).map((u) => (
              <UnknownTable key={u.name} importId={id} kinds={kinds} {...u} />
            ))
          : null}
        {leftOut.length > 0 && isOpen
          ? leftOut.map(({ file, sheet }) => (
              <UnknownTable
                key={`${file.seq} ${sheet}`}
                importId={id}
                seq={file.seq}
                sheet={sheet}
                name={sheet ? `${file.fileName}, ${sheet}` : file.fileName}
                words={t("You left this table out. Choose what it holds to take it back in.")}
                kinds={kinds}
              />
            ))
          : null}
        <FindingTable
          title={t("Files and columns")}
          problems={(summary.problems ?? []).filter((p) => p.rule !== "kind-unknown")}
        />
        <FindingTable
          title={t("Refused rows")}
          problems={run.state === "discarded" ? [] : (summary.refused ?? [])}
          foot={
            refused > 0
              ? t(
                  "The first problems. The table below has every row; each file's refused rows can be taken out as CSV, corrected and brought in again.",
                )
              : undefined
          }
        />
        {run.state !== "discarded" ? tables.filter((t) => !asking.includes(t)).map(card) : null}
        {summary.digest && tables.some((t) => t.totals) && run.state !== "discarded" ? (
          <Panel title={t("Every row")} flush>
            <RowsTable importId={id} digest={summary.digest} />
          </Panel>
        ) : null}
      </div>
    </>
  );
}

/** The job at work, or what the last one had to say. */
function jobOf(
  db: Db,
  run: ImportHead,
): { activeId?: string; notices: Pick<Problem, "message" | "remedy" | "said">[] } {
  const job = run.summary.jobId === undefined ? undefined : jobById(db, run.summary.jobId);
  if (!job || run.state === "discarded") return { notices: [] };
  if (!ENDED.includes(job.state)) return { activeId: job.id, notices: [] };
  const { problems = [] } = (job.result ?? {}) as { problems?: Problem[] };
  if (job.state === "failed")
    return {
      notices: [
        sentences(
          phrase("It could not be finished: {{why}}.", { why: job.error ?? "" }),
          phrase("Nothing was stored. Try again."),
        ),
      ],
    };
  if (job.state === "cancelled")
    return {
      notices: [
        sentences(
          phrase("You stopped it."),
          phrase("Nothing was stored. Read the files again when you like."),
        ),
      ],
    };
  return { notices: problems };
}

function unknownTables(
  summary: ImportSummary,
  files: readonly { seq: number; fileName: string }[],
  words: Words,
) {
  const { t } = words;
  const seqOf = (fileName: string) => files.find((f) => f.fileName === fileName)?.seq ?? 0;
  const unknown = (summary.problems ?? [])
    .filter((p) => p.rule === "kind-unknown")
    .map((p) => ({
      seq: seqOf(p.fileName),
      sheet: p.sheet ?? "",
      name: p.sheet ? `${p.fileName}, ${p.sheet}` : p.fileName,
      words: `${messageOf(p, words)} ${t("Its columns: {{columns}}.", { columns: String(p.value) })}`,
    }));
  const skipped = (summary.skippedSheets ?? []).map(({ fileName, sheet }) => ({
    seq: seqOf(fileName),
    sheet,
    name: `${fileName}, ${sheet}`,
    words: t("This sheet holds nothing known and is left out."),
  }));
  return [...unknown, ...skipped];
}

async function Stored({ stored }: { stored: NonNullable<ImportSummary["stored"]> }) {
  const words = await serverWords();
  const { t } = words;
  const has = (...kinds: (keyof typeof stored.counts)[]) => kinds.some((k) => (stored.counts[k] ?? 0) > 0);
  return (
    <Notice
      kind="good"
      title={t("Brought in: {{stored}}", { stored: storedWords(stored, words) })}
      action={
        <div className="ui-toolbar">
          {has("sites", "hops", "ends", "antennas", "radios", "gates") ? (
            <LinkButton href="/sites">{t("Sites and hops")}</LinkButton>
          ) : null}
          {has("stock", "orders", "items", "places") ? (
            <LinkButton href="/stock">{t("Stock")}</LinkButton>
          ) : null}
          {stored.weatherSeries > 0 || has("weather places") ? (
            <LinkButton href="/weather">{t("Weather")}</LinkButton>
          ) : null}
          {has("actual hours") ? <LinkButton href="/programme/hours">{t("Hours learned")}</LinkButton> : null}
          {has("crews", "crew members") ? <LinkButton href="/plan">{t("Plan")}</LinkButton> : null}
        </div>
      }
    >
      {t(
        "Take-off, hours and stock needs are brought up to date in the background; the plan stays until it is made anew.",
      )}
    </Notice>
  );
}

interface FindingTableProps {
  title: string;
  problems: readonly ExchangeProblem[];
  foot?: string;
}

async function FindingTable({ title, problems, foot }: FindingTableProps) {
  const { t } = await serverWords();
  if (problems.length === 0) return null;
  return (
    <Panel title={title} foot={foot}>
      <ScrollRegion label={t("{{title}}: list", { title })}>
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              <th scope="col">{t("File")}</th>
              <th scope="col">{t("Row")}</th>
              <th scope="col">{t("Column")}</th>
              <th scope="col">{t("Value")}</th>
              <th scope="col">{t("What is wrong")}</th>
              <th scope="col">{t("What to do")}</th>
            </tr>
          </thead>
          <tbody>
            {problems.map((p, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: two rows may hold the very same problem
              <tr key={i}>
                <th scope="row" data-label={t("File")}>
                  {p.sheet ? `${p.fileName}, ${p.sheet}` : p.fileName}
                </th>
                <td data-label={t("Row")}>{p.row}</td>
                <td data-label={t("Column")}>{p.column}</td>
                <td data-label={t("Value")}>
                  <code>{p.value === undefined ? t("(empty)") : String(p.value)}</code>
                </td>
                <td data-label={t("What is wrong")}>
                  <FindingWords problem={p} />
                </td>
                <td data-label={t("What to do")}>
                  <RemedyWords problem={p} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
    </Panel>
  );
}
