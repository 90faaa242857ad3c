import type { Metadata } from "next";
import Link from "next/link";
import { homeZone } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { requireRole } from "@/app/_server/session";
import { DownloadButton } from "@/app/_ui/Button";
import { Disclosure } from "@/app/_ui/Disclosure";
import { formatInstant } from "@/app/_ui/format";
import { English } from "@/app/_ui/language/English";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import { database } from "@/db/open";
import { countItems } from "@/db/queries/catalogue";
import { isUnreadable, recentImports } from "@/db/queries/imports";
import { KIND_NAMES, MAX_FILE_BYTES } from "@/lib/exchange";
import { CatalogueStart } from "./CatalogueStart";
import { stateOfImport, storedWords } from "./importWords";
import { IMPORTERS, type KindWords, kindWords, slugOf } from "./kinds";
import { UploadArea } from "./UploadArea";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Bring in") };
}

const PAST_SHOWN = 20;

export default async function ImportPage() {
  const words = await serverWords();
  const { t, locale } = words;
  await requireRole(...IMPORTERS);
  const db = database();
  const zone = homeZone(db);
  // Of what held no table nothing was or could be stored: it was said at once.
  const past = recentImports(db, PAST_SHOWN).filter(
    (run) => run.fileNames.length > 0 && !(run.state === "discarded" && isUnreadable(run.summary)),
  );
  return (
    <>
      <PageHead
        title={t("Bring in")}
        lead={t(
          "Files in and out: you see what every row will do before anything is stored, and take everything out again.",
        )}
        actions={
          <>
            <DownloadButton href="/export/template/programme.xlsx" glyph="export">
              {t("Workbook to fill in")}
            </DownloadButton>
            <DownloadButton href="/export/programme.xlsx" glyph="export">
              {t("Everything as a workbook")}
            </DownloadButton>
          </>
        }
      />
      <div className="grid gap-4">
        {countItems(db) === 0 ? <CatalogueStart /> : null}
        <Panel title={t("Files to bring in")}>
          <UploadArea maxBytes={MAX_FILE_BYTES} />
        </Panel>
        <Panel
          title={t("What can be brought in")}
          note={t(
            "What a table holds is found from its name and header. The order of files and rows does not matter.",
          )}
          foot={t(
            "Exports import again without a change. Weather hours go out as CSV only: they are too many for a sheet.",
          )}
        >
          <ul className="grid gap-1">
            {KIND_NAMES.map((name) => (
              <li key={name}>
                <KindEntry kind={kindWords(name)} />
              </li>
            ))}
          </ul>
        </Panel>
        <Panel title={t("Past imports")} flush>
          {past.length === 0 ? (
            <p className="px-4 py-3">{t("None yet. Choose files above.")}</p>
          ) : (
            <ScrollRegion label={t("Past imports")}>
              <table className="ui-facts">
                <thead>
                  <tr>
                    <th scope="col">{t("When")}</th>
                    <th scope="col">{t("State")}</th>
                    <th scope="col">{t("Files")}</th>
                    <th scope="col">{t("Stored")}</th>
                    <th scope="col">{t("By")}</th>
                  </tr>
                </thead>
                <tbody>
                  {past.map((run) => (
                    <tr key={run.id}>
                      <th scope="row">
                        <Link href={`/import/${run.id}`}>{formatInstant(run.createdAt, zone, locale)}</Link>
                      </th>
                      <td>
                        <StateMark state={stateOfImport(run).state}>{t(stateOfImport(run).word)}</StateMark>
                      </td>
                      <td>{run.fileNames.join(", ")}</td>
                      <td>{run.summary.stored ? storedWords(run.summary.stored, words) : t("nothing")}</td>
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

async function KindEntry({ kind }: { kind: KindWords }) {
  const { t } = await serverWords();
  const slug = slugOf(kind.name);
  const needed = kind.columns.filter((c) => c.required).length;
  return (
    <Disclosure
      summary={
        <span>
          <strong>{t(kind.title)}</strong>{" "}
          <span className="font-normal text-quiet">{t(kind.description)}</span>
        </span>
      }
    >
      <div className="grid gap-3">
        <p className="flex flex-wrap gap-x-4 gap-y-1">
          <a href={`/export/template/${slug}?format=csv`}>{t("Template CSV")}</a>
          <a href={`/export/template/${slug}?format=xlsx`}>{t("Template XLSX")}</a>
          {kind.name === "weather" ? (
            <>
              <a href={`/export/${slug}?format=csv&series=history`}>{t("Past hours, CSV")}</a>
              <a href={`/export/${slug}?format=csv&series=forecast`}>{t("Latest forecast, CSV")}</a>
              <a href={`/export/${slug}?format=csv&series=members`}>{t("Its ensemble members, CSV")}</a>
            </>
          ) : (
            <>
              <a href={`/export/${slug}?format=csv`}>{t("Current rows CSV")}</a>
              <a href={`/export/${slug}?format=csv&separator=%3B`}>
                {t("with semicolons and decimal commas")}
              </a>
              <a href={`/export/${slug}?format=xlsx`}>{t("Current rows XLSX")}</a>
            </>
          )}
        </p>
        <p>
          {t("{{columns}}, {{needed}}. Columns may stand in any order.", {
            columns: t("{{count}} columns", { count: kind.columns.length }),
            needed: t("{{count}} of them needed", { count: needed }),
          })}
        </p>
        <ScrollRegion label={t("Columns of {{title}}", { title: t(kind.title) })}>
          <table className="ui-facts">
            <thead>
              <tr>
                <th scope="col">{t("Column")}</th>
                <th scope="col">{t("Needed")}</th>
                <th scope="col">{t("Meaning")}</th>
                <th scope="col">{t("Example")}</th>
              </tr>
            </thead>
            <tbody>
              {kind.columns.map((c) => (
                <tr key={c.key}>
                  <th scope="row">
                    <English>{c.header}</English>
                  </th>
                  <td>{c.required ? t("yes") : t("no")}</td>
                  <td>
                    {t(c.description)}
                    {c.choices ? (
                      <small className="block">
                        {t("In the file:")} <span lang="en">{c.choices.join(", ")}</span>
                      </small>
                    ) : null}
                  </td>
                  <td>
                    <code lang="en">{c.example}</code>
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
