import { formatInstant, formatMetres, formatNumber } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import type { SiteEnd } from "@/app/(work)/sites/[code]/desk";
import { ReportTable } from "@/app/(work)/sites/[code]/VisitTables";
import type { loadLog, StoredReport } from "@/db/queries/reports";

export interface RecordTabProps {
  ends: readonly SiteEnd[];
  reports: readonly StoredReport[];
  log: ReturnType<typeof loadLog>;
  zone: string;
}

/** What is handed over with the hop, what came back from the field, and who changed what. */
export function RecordTab({ ends, reports, log, zone }: RecordTabProps) {
  return (
    <div className="grid gap-4">
      <Panel
        title="Goes into the record handed over"
        note="Design figures; the measured readings come with the acceptance report."
        foot="Coupler losses count in the link budget: a level measured at the standby port is lower by its loss."
        flush
      >
        <ScrollRegion label="Figures of the record">
          <table className="ui-facts">
            <thead>
              <tr>
                <th scope="col">End</th>
                <th scope="col">Coupler</th>
                <th scope="col">Runs</th>
                <th scope="col">Loss at the higher IF</th>
                <th scope="col">Earthing points</th>
              </tr>
            </thead>
            <tbody>
              {ends.map((e) => (
                <tr key={e.key}>
                  <th scope="row">
                    {e.side} end, {e.site.code}
                  </th>
                  <td>
                    {e.takeoff.checks
                      .filter((c) => c.rule === "coupler-loss")
                      .map((c) => c.message)
                      .join(" ") || "no hybrid coupler in this scheme"}
                  </td>
                  <td>
                    {e.takeoff.runs.map((r) => `${r.oduLabel} ${r.role} ${formatMetres(r.cutM)}`).join("; ")}
                  </td>
                  <td>
                    {e.takeoff.runs
                      .map((r) => `${r.oduLabel} ${formatNumber(r.lossDbAtHigh, 1)} dB`)
                      .join("; ")}
                  </td>
                  <td>
                    {e.takeoff.runs
                      .map(
                        (r) =>
                          `${r.oduLabel} at ${r.earthingPoints.map((p) => formatMetres(p.heightM)).join(", ")} above ground`,
                      )
                      .join("; ")}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </ScrollRegion>
      </Panel>
      <Panel title="Reports from the field" flush>
        {reports.length > 0 ? (
          <ReportTable reports={reports} />
        ) : (
          <p className="px-4 py-3">Nothing has been reported for this hop yet.</p>
        )}
      </Panel>
      <Panel title="Log" note="Changes by people, newest first." flush>
        {log.length > 0 ? (
          <ScrollRegion label="Log of this hop">
            <table className="ui-facts">
              <thead>
                <tr>
                  <th scope="col">When</th>
                  <th scope="col">Who</th>
                  <th scope="col">What</th>
                </tr>
              </thead>
              <tbody>
                {log.map((l) => (
                  <tr key={l.id}>
                    <th scope="row">{formatInstant(l.at, zone)}</th>
                    <td>{l.userName}</td>
                    <td>
                      {l.action} {detailWords(l.detail)}
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </ScrollRegion>
        ) : (
          <p className="px-4 py-3">No change has been logged for this hop.</p>
        )}
      </Panel>
    </div>
  );
}

interface GateDetail {
  kind?: string;
  from?: { state: string; dueOn: string | null };
  to?: { state: string; dueOn: string | null };
}

function detailWords(detail: unknown): string {
  const { kind, from, to } = (detail ?? {}) as GateDetail;
  if (!kind || !from || !to) return "";
  const words = (s: { state: string; dueOn: string | null }) => (s.dueOn ? `${s.state} ${s.dueOn}` : s.state);
  return `${kind}: ${words(from)} to ${words(to)}`;
}
