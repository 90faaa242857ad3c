import type { Metadata } from "next";
import Link from "next/link";
import { homeZone } from "@/app/_server/clock";
import { requireRole } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { Disclosure } from "@/app/_ui/Disclosure";
import { formatCount, formatInstant } from "@/app/_ui/format";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import { database } from "@/db/open";
import { countItems } from "@/db/queries/catalogue";
import { recentImports } from "@/db/queries/imports";
import { KIND_NAMES, MAX_FILE_BYTES } from "@/lib/exchange";
import { CatalogueStart } from "./CatalogueStart";
import { STATE_OF_IMPORT, storedWords } from "./importWords";
import { IMPORTERS, type KindWords, kindWords, slugOf } from "./kinds";
import { UploadArea } from "./UploadArea";

export const metadata: Metadata = { title: "Bring in" };

const PAST_SHOWN = 20;

export default async function ImportPage() {
  await requireRole(...IMPORTERS);
  const db = database();
  const zone = homeZone(db);
  const past = recentImports(db, PAST_SHOWN).filter((run) => run.fileNames.length > 0);
  return (
    <>
      <PageHead
        title="Bring in"
        lead="Files in and out: you see what every row will do before anything is stored, and take everything out again."
        actions={
          <>
            <LinkButton href="/export/template/programme.xlsx" prefetch={false} glyph="export">
              Workbook to fill in
            </LinkButton>
            <LinkButton href="/export/programme.xlsx" prefetch={false} glyph="export">
              Everything as a workbook
            </LinkButton>
          </>
        }
      />
      <div className="grid gap-4">
        {countItems(db) === 0 ? <CatalogueStart /> : null}
        <Panel title="Files to bring in">
          <UploadArea maxBytes={MAX_FILE_BYTES} />
        </Panel>
        <Panel
          title="What can be brought in"
          note="What a table holds is found from its name and header. The order of files and rows does not matter."
          foot="Exports import again without a change. Weather hours go out as CSV only: they are too many for a sheet."
        >
          <ul className="grid gap-1">
            {KIND_NAMES.map((name) => (
              <li key={name}>
                <KindEntry kind={kindWords(name)} />
              </li>
            ))}
          </ul>
        </Panel>
        <Panel title="Past imports" flush>
          {past.length === 0 ? (
            <p className="px-4 py-3">None yet. Choose files above.</p>
          ) : (
            <ScrollRegion label="Past imports">
              <table className="ui-facts">
                <thead>
                  <tr>
                    <th scope="col">When</th>
                    <th scope="col">State</th>
                    <th scope="col">Files</th>
                    <th scope="col">Stored</th>
                    <th scope="col">By</th>
                  </tr>
                </thead>
                <tbody>
                  {past.map((run) => (
                    <tr key={run.id}>
                      <th scope="row">
                        <Link href={`/import/${run.id}`}>{formatInstant(run.createdAt, zone)}</Link>
                      </th>
                      <td>
                        <StateMark state={STATE_OF_IMPORT[run.state].state}>
                          {STATE_OF_IMPORT[run.state].word}
                        </StateMark>
                      </td>
                      <td>{run.fileNames.join(", ")}</td>
                      <td>{run.summary.stored ? storedWords(run.summary.stored) : "nothing"}</td>
                      <td>{run.createdBy}</td>
                    </tr>
                  ))}
                </tbody>
              </table>
            </ScrollRegion>
          )}
        </Panel>
      </div>
    </>
  );
}

function KindEntry({ kind }: { kind: KindWords }) {
  const slug = slugOf(kind.name);
  const needed = kind.columns.filter((c) => c.required).length;
  return (
    <Disclosure
      summary={
        <span>
          <strong>{kind.title}</strong> <span className="font-normal text-quiet">{kind.description}</span>
        </span>
      }
    >
      <div className="grid gap-3">
        <p className="flex flex-wrap gap-x-4 gap-y-1">
          <a href={`/export/template/${slug}?format=csv`}>Template CSV</a>
          <a href={`/export/template/${slug}?format=xlsx`}>Template XLSX</a>
          {kind.name === "weather" ? (
            <>
              <a href={`/export/${slug}?format=csv&series=history`}>Past hours, CSV</a>
              <a href={`/export/${slug}?format=csv&series=forecast`}>Latest forecast, CSV</a>
              <a href={`/export/${slug}?format=csv&series=members`}>Its ensemble members, CSV</a>
            </>
          ) : (
            <>
              <a href={`/export/${slug}?format=csv`}>Current rows CSV</a>
              <a href={`/export/${slug}?format=csv&separator=%3B`}>with semicolons and decimal commas</a>
              <a href={`/export/${slug}?format=xlsx`}>Current rows XLSX</a>
            </>
          )}
        </p>
        <p>
          {formatCount(kind.columns.length, "column")},{" "}
          {formatCount(needed, "of them needed", "of them needed")}. Columns may stand in any order.
        </p>
        <ScrollRegion label={`Columns of ${kind.title}`}>
          <table className="ui-facts">
            <thead>
              <tr>
                <th scope="col">Column</th>
                <th scope="col">Needed</th>
                <th scope="col">Meaning</th>
                <th scope="col">Example</th>
              </tr>
            </thead>
            <tbody>
              {kind.columns.map((c) => (
                <tr key={c.key}>
                  <th scope="row">{c.header}</th>
                  <td>{c.required ? "yes" : "no"}</td>
                  <td>{c.description}</td>
                  <td>
                    <code>{c.example}</code>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </ScrollRegion>
      </div>
    </Disclosure>
  );
}
