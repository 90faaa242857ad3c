import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { homeZone } from "@/app/_server/clock";
import { requireRole } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { formatCount, formatInstant, formatNumber } from "@/app/_ui/format";
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
  type TableHead,
} from "@/db/queries/imports";
import { ENDED, jobById } from "@/db/queries/jobs";
import { type ExchangeProblem, KIND_NAMES } from "@/lib/exchange";
import type { Problem } from "@/lib/result";
import { STATE_OF_IMPORT, storedWords } from "../importWords";
import { IMPORTERS, kindWords } from "../kinds";
import { ImportActions } from "./ImportActions";
import { JobWatch } from "./JobWatch";
import { RowsTable } from "./RowsTable";
import { TableCard } from "./TableCard";
import { UnknownTable } from "./UnknownTables";

export const metadata: Metadata = { title: "Import" };

export default async function ImportOnePage({ params }: { params: Promise<{ id: string }> }) {
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
  const hours = tables.reduce((sum, t) => sum + hoursOf(t), 0);
  const refusedHours = tables.reduce((sum, t) => sum + (t.weather?.refusedRows ?? 0), 0);
  const refused = (totals?.refused ?? 0) + refusedHours;
  const leftOut = files.flatMap((f) =>
    Object.entries(f.answers).flatMap(([sheet, a]) => (a.isLeftOut ? [{ file: f, sheet }] : [])),
  );
  return (
    <>
      <PageHead
        title={files.length === 1 ? files[0]!.fileName : formatCount(files.length, "file")}
        crumbs={[{ label: "Bring in", href: "/import" }]}
        marks={
          <StateMark state={STATE_OF_IMPORT[run.state].state} boxed>
            {STATE_OF_IMPORT[run.state].word}
          </StateMark>
        }
        lead={`From ${run.createdBy}, ${formatInstant(run.createdAt, homeZone(db))}.`}
      />
      <div className="grid gap-4">
        {job.activeId ? (
          <Panel title="Under way">
            <JobWatch key={job.activeId} jobId={job.activeId} />
          </Panel>
        ) : null}
        {job.notices.map((n) => (
          <Notice key={n.message} kind="problem" announce title={n.message}>
            {n.remedy}
          </Notice>
        ))}
        {summary.stored ? <Stored stored={summary.stored} /> : null}
        {run.state === "discarded" ? (
          <Notice kind="info" title="This import was discarded">
            Nothing was stored, and its files are forgotten. <Link href="/import">Bring files in</Link>.
          </Notice>
        ) : null}
        {totals && run.state !== "discarded" ? (
          <StatRow>
            <Stat label="New" figure={formatNumber(totals.new)} limit="will be added" />
            <Stat
              label="Changed"
              figure={formatNumber(totals.changed)}
              limit="will be brought to the file's state"
            />
            <Stat label="Same" figure={formatNumber(totals.same)} limit="stand already" />
            <Stat
              label="Refused"
              figure={formatNumber(refused)}
              limit={refused > 0 ? "stay out; see why below" : "none"}
              tone={refused > 0 ? "problem" : "plain"}
            />
            <Stat label="Not in the files" figure={formatNumber(totals.notInFile)} limit="stay as they are" />
          </StatRow>
        ) : null}
        {isOpen ? (
          <ImportActions
            importId={id}
            digest={summary.digest}
            rows={(totals?.new ?? 0) + (totals?.changed ?? 0)}
            hours={hours}
            refused={refused}
          />
        ) : null}
        {isOpen
          ? unknownTables(summary, files).map((u) => (
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
                words="You left this table out. Choose what it holds to take it back in."
                kinds={kinds}
              />
            ))
          : null}
        <ProblemTable
          title="Files and columns"
          problems={(summary.problems ?? []).filter((p) => p.rule !== "kind-unknown")}
        />
        <ProblemTable
          title="Refused rows"
          problems={run.state === "discarded" ? [] : (summary.refused ?? [])}
          foot={
            refused > 0
              ? "The first problems. The table below has every row; each file's refused rows can be taken out as CSV, corrected and brought in again."
              : undefined
          }
        />
        {run.state !== "discarded"
          ? tables.map((t) => (
              <TableCard
                // A new preview starts the form anew.
                key={`${t.seq} ${t.sheet ?? ""} ${summary.digest} ${JSON.stringify(t.matching)}`}
                importId={id}
                table={t}
                answers={files.find((f) => f.seq === t.seq)?.answers[t.sheet ?? ""] ?? {}}
                kinds={kinds}
                isOpen={isOpen}
                hasRefused={(t.totals?.refused ?? 0) + (t.weather?.refusedRows ?? 0) > 0}
              />
            ))
          : null}
        {summary.digest && tables.some((t) => t.totals) && run.state !== "discarded" ? (
          <Panel title="Every row" flush>
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
): { activeId?: string; notices: Pick<Problem, "message" | "remedy">[] } {
  const job = run.summary.jobId === undefined ? undefined : jobById(db, run.summary.jobId);
  if (!job || run.state === "discarded") return { notices: [] };
  if (!ENDED.includes(job.state)) return { activeId: job.id, notices: [] };
  const { problems = [] } = (job.result ?? {}) as { problems?: Problem[] };
  if (job.state === "failed")
    return {
      notices: [
        { message: `It could not be finished: ${job.error}.`, remedy: "Nothing was stored. Try again." },
      ],
    };
  if (job.state === "cancelled")
    return {
      notices: [
        { message: "You stopped it.", remedy: "Nothing was stored. Read the files again when you like." },
      ],
    };
  return { notices: problems };
}

function hoursOf({ weather }: TableHead): number {
  if (!weather || weather.problems.length > 0) return 0;
  return weather.places.reduce((sum, p) => sum + p.newHours + p.changedHours, 0);
}

function unknownTables(summary: ImportSummary, files: readonly { seq: number; fileName: string }[]) {
  const seqOf = (fileName: string) => files.find((f) => f.fileName === fileName)?.seq ?? 0;
  const unknown = (summary.problems ?? [])
    .filter((p) => p.rule === "kind-unknown")
    .map((p) => ({
      seq: seqOf(p.fileName),
      sheet: p.sheet ?? "",
      name: p.sheet ? `${p.fileName}, ${p.sheet}` : p.fileName,
      words: `${p.message} Its columns: ${p.value}.`,
    }));
  const skipped = (summary.skippedSheets ?? []).map(({ fileName, sheet }) => ({
    seq: seqOf(fileName),
    sheet,
    name: `${fileName}, ${sheet}`,
    words: "This sheet holds nothing known and is left out.",
  }));
  return [...unknown, ...skipped];
}

function Stored({ stored }: { stored: NonNullable<ImportSummary["stored"]> }) {
  const has = (...kinds: (keyof typeof stored.counts)[]) => kinds.some((k) => (stored.counts[k] ?? 0) > 0);
  return (
    <Notice
      kind="good"
      title={`Brought in: ${storedWords(stored)}`}
      action={
        <div className="ui-toolbar">
          {has("sites", "hops", "ends", "antennas", "radios", "gates") ? (
            <LinkButton href="/sites">Sites and hops</LinkButton>
          ) : null}
          {has("stock", "orders", "items", "places") ? <LinkButton href="/stock">Stock</LinkButton> : null}
          {stored.weatherSeries > 0 || has("weather places") ? (
            <LinkButton href="/weather">Weather</LinkButton>
          ) : null}
          {has("actual hours") ? <LinkButton href="/programme/hours">Hours learned</LinkButton> : null}
          {has("crews", "crew members") ? <LinkButton href="/plan">Plan</LinkButton> : null}
        </div>
      }
    >
      Take-off, hours and stock needs are brought up to date in the background; the plan stays until it is
      made anew.
    </Notice>
  );
}

interface ProblemTableProps {
  title: string;
  problems: readonly ExchangeProblem[];
  foot?: string;
}

function ProblemTable({ title, problems, foot }: ProblemTableProps) {
  if (problems.length === 0) return null;
  return (
    <Panel title={title} foot={foot}>
      <ScrollRegion label={`${title}: list`}>
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              <th scope="col">File</th>
              <th scope="col">Row</th>
              <th scope="col">Column</th>
              <th scope="col">Value</th>
              <th scope="col">What is wrong</th>
              <th scope="col">What to do</th>
            </tr>
          </thead>
          <tbody>
            {problems.map((p, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: two rows may hold the very same problem
              <tr key={i}>
                <th scope="row" data-label="File">
                  {p.sheet ? `${p.fileName}, ${p.sheet}` : p.fileName}
                </th>
                <td data-label="Row">{p.row}</td>
                <td data-label="Column">{p.column}</td>
                <td data-label="Value">
                  <code>{p.value === undefined ? "(empty)" : String(p.value)}</code>
                </td>
                <td data-label="What is wrong">{p.message}</td>
                <td data-label="What to do">{p.remedy}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
    </Panel>
  );
}
