import { serverWords } from "@/app/_server/language";
import { formatDate, formatInstant, formatMetres, formatNumber } from "@/app/_ui/format";
import { checkText } from "@/app/_ui/language/checkText";
import { keptText } from "@/app/_ui/language/keptText";
import type { Words } from "@/app/_ui/language/words";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { sayVisit } from "@/app/(work)/plan/sayVisit";
import { changeSaid, valueSaid } from "@/app/(work)/rules/logWords";
import type { SiteEnd } from "@/app/(work)/sites/[code]/desk";
import { ReportTable } from "@/app/(work)/sites/[code]/VisitTables";
import type { loadLog } from "@/db/queries/log";
import { LOG_ACTIONS } from "@/db/queries/log";
import type { HopReport } from "@/db/queries/siteViews";
import type { CalendarDate } from "@/lib/time";

export interface RecordTabProps {
  ends: readonly SiteEnd[];
  reports: readonly HopReport[];
  log: ReturnType<typeof loadLog>;
  zone: string;
}

/** What is handed over with the hop, what came back from the field, and who changed what. */
export async function RecordTab({ ends, reports, log, zone }: RecordTabProps) {
  const words = await serverWords();
  const { t, locale } = words;
  return (
    <div className="grid gap-4">
      <Panel
        title={t("Goes into the record handed over")}
        note={t("Design figures; the measured readings come with the acceptance report.")}
        foot={t(
          "Coupler losses count in the link budget: a level measured at the standby port is lower by its loss.",
        )}
        flush
      >
        <ScrollRegion label={t("Figures of the record")}>
          <table className="ui-facts">
            <thead>
              <tr>
                <th scope="col">{t("End")}</th>
                <th scope="col">{t("Coupler")}</th>
                <th scope="col">{t("Runs (of cable)")}</th>
                <th scope="col">{t("Loss at the higher IF")}</th>
                <th scope="col">{t("Earthing points")}</th>
              </tr>
            </thead>
            <tbody>
              {ends.map((e) => (
                <tr key={e.key}>
                  <th scope="row">
                    {t(`${e.side} end`)}, {e.site.code}
                  </th>
                  <td>
                    {couplerChecks(e).length === 0
                      ? t("no hybrid coupler in this scheme")
                      : couplerChecks(e).map((c) => (
                          <span key={c.where} className="block">
                            {checkText(c.message, words)}
                          </span>
                        ))}
                  </td>
                  <td>
                    {e.takeoff.runs
                      .map((r) => `${r.oduLabel} ${t(r.role)} ${formatMetres(r.cutM, locale)}`)
                      .join("; ")}
                  </td>
                  <td>
                    {e.takeoff.runs
                      .map((r) => `${r.oduLabel} ${formatNumber(r.lossDbAtHigh, 1, locale)} dB`)
                      .join("; ")}
                  </td>
                  <td>
                    {e.takeoff.runs
                      .map((r) =>
                        t("{{odu}} at {{heights}} above ground", {
                          odu: r.oduLabel,
                          heights: r.earthingPoints.map((p) => formatMetres(p.heightM, locale)).join(", "),
                        }),
                      )
                      .join("; ")}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </ScrollRegion>
      </Panel>
      <Panel title={t("Reports from the field")} flush>
        {reports.length > 0 ? (
          <ReportTable reports={reports} />
        ) : (
          <p className="px-4 py-3">{t("Nothing has been reported for this hop yet.")}</p>
        )}
      </Panel>
      <Panel title={t("Log")} note={t("Changes by people, newest first.")} flush>
        {log.length > 0 ? (
          <ScrollRegion label={t("Log of this hop")}>
            <table className="ui-facts">
              <thead>
                <tr>
                  <th scope="col">{t("When")}</th>
                  <th scope="col">{t("Who")}</th>
                  <th scope="col">{t("What")}</th>
                </tr>
              </thead>
              <tbody>
                {log.map((l) => (
                  <tr key={l.id}>
                    <th scope="row">{formatInstant(l.at, zone, locale)}</th>
                    <td>{l.userName}</td>
                    <td>
                      {keptText(l.action, LOG_ACTIONS, words)} {detailWords(l.detail, words)}
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </ScrollRegion>
        ) : (
          <p className="px-4 py-3">{t("No change has been logged for this hop.")}</p>
        )}
      </Panel>
    </div>
  );
}

const couplerChecks = ({ takeoff }: SiteEnd) => takeoff.checks.filter((c) => c.rule === "coupler-loss");

interface Detail {
  /** Of a hop that was changed by hand. */
  changes?: string[];
  /** Of a revisit that was withdrawn. */
  visitId?: string;
  why?: string;
  kind?: string;
  /** Of a gate that was added. */
  owner?: string;
  side?: string;
  from?: { state: string; dueOn: string | null };
  to?: { state: string; dueOn: string | null };
}

function detailWords(detail: unknown, words: Words): string {
  const { kind, owner, side, from, to, changes, visitId, why } = (detail ?? {}) as Detail;
  const { t, locale } = words;
  if (changes) return changes.map((change) => changeSaid(change, words)).join("; ");
  if (visitId && why) return `(${sayVisit(visitId, words)}): ${why}`;
  if (!kind || !to) return "";
  const state = ({ state, dueOn }: { state: string; dueOn: string | null }) =>
    [
      valueSaid(state, "state", words),
      ...(dueOn ? [formatDate(dueOn as CalendarDate, "full", locale)] : []),
    ].join(" ");
  const gate = valueSaid(kind, "kind", words);
  if (from) return t("{{field}}: {{from}} to {{to}}", { field: gate, from: state(from), to: state(to) });
  return t("{{gate}}, {{side}}, owner {{owner}}: {{state}}", {
    gate,
    side: valueSaid(side ?? "both", "side", words),
    owner: owner ?? "",
    state: state(to),
  });
}
