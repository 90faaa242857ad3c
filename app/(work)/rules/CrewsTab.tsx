import { homeToday } from "@/app/_server/clock";
import { LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import {
  formatClock,
  formatCount,
  formatDate,
  formatDuration,
  formatNumber,
  formatQuantity,
} from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { Db } from "@/db/open";
import { loadCrews } from "@/db/queries/crews";
import { loadCertificates } from "@/db/queries/rules";
import { SKILLS } from "@/lib/hours";
import { CertificateButton, LeaveButton, type MemberChoice } from "./CrewEdits";
import { SKILL_WORDS } from "./words";

const DAYS = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];

/** Crews, who is in them, what their certificates say and who is away. */
export function CrewsTab({ db, mayEdit }: { db: Db; mayEdit: boolean }) {
  const today = homeToday(db);
  const crews = loadCrews(db);
  if (crews.length === 0)
    return (
      <EmptyState title="No crews yet" actions={<LinkButton href="/import">Bring in crews</LinkButton>}>
        Crews, their members and certificates come in from a spreadsheet.
      </EmptyState>
    );
  const certificates = loadCertificates(db, today);
  const expired = certificates.filter((c) => c.state === "expired").length;
  const expiring = certificates.filter((c) => c.state === "expiring").length;
  const members: MemberChoice[] = crews.flatMap((c) =>
    c.members.map((m) => ({ code: m.code, name: m.name, crew: c.code })),
  );
  const skills = SKILLS.map((s) => ({ value: s, label: SKILL_WORDS[s] }));
  const leaves = crews
    .flatMap((c) => c.members.flatMap((m) => m.leave.map((l) => ({ ...l, crew: c.code, member: m }))))
    .filter((l) => l.toOn >= today)
    .sort((a, b) =>
      a.fromOn < b.fromOn ? -1 : a.fromOn > b.fromOn ? 1 : a.member.name < b.member.name ? -1 : 1,
    );
  return (
    <div className="grid gap-4">
      <Panel
        title="Certificates"
        note={`${expired === 0 ? "None expired" : `${formatNumber(expired)} expired`}, ${expiring === 0 ? "none" : formatNumber(expiring)} expiring within 30 days. Soonest first; without its certificate nobody is planned for that work.`}
        actions={mayEdit ? <CertificateButton members={members} skills={skills} /> : undefined}
        flush
      >
        <ScrollRegion label="Certificates" className="max-md:px-4">
          <table className="ui-facts ui-facts-stack">
            <thead>
              <tr>
                <th scope="col">Who</th>
                <th scope="col">Crew</th>
                <th scope="col">For</th>
                <th scope="col">Valid until</th>
                <th scope="col">State</th>
                {mayEdit ? (
                  <th scope="col">
                    <span className="sr-only">Change</span>
                  </th>
                ) : null}
              </tr>
            </thead>
            <tbody>
              {certificates.map((c) => (
                <tr key={`${c.memberCode} ${c.skill}`}>
                  <th scope="row" data-label="Who">
                    {c.memberName}
                  </th>
                  <td data-label="Crew">{c.crewCode}</td>
                  <td data-label="For">{SKILL_WORDS[c.skill]}</td>
                  <td data-label="Valid until">{c.validUntil ? formatDate(c.validUntil) : "no end"}</td>
                  <td data-label="State">
                    {c.state === "expired" ? (
                      <StateMark state="late">Expired</StateMark>
                    ) : c.state === "expiring" ? (
                      <StateMark state="warn">Expires soon</StateMark>
                    ) : (
                      <StateMark state="met">{c.state === "valid" ? "Valid" : "No end"}</StateMark>
                    )}
                  </td>
                  {mayEdit ? (
                    <td>
                      <div>
                        <CertificateButton
                          members={members}
                          skills={skills}
                          row={{
                            memberCode: c.memberCode,
                            name: c.memberName,
                            skill: c.skill,
                            validUntil: c.validUntil,
                          }}
                        />
                      </div>
                    </td>
                  ) : null}
                </tr>
              ))}
            </tbody>
          </table>
        </ScrollRegion>
      </Panel>
      <Panel
        title="Leave"
        note="From today on. Nobody is planned on leave."
        actions={mayEdit ? <LeaveButton members={members} /> : undefined}
        flush
      >
        {leaves.length === 0 ? (
          <p className="px-4 py-3">Nobody is away from {formatDate(today)} on.</p>
        ) : (
          <ScrollRegion label="Leave" className="max-md:px-4">
            <table className="ui-facts ui-facts-stack">
              <thead>
                <tr>
                  <th scope="col">Who</th>
                  <th scope="col">Crew</th>
                  <th scope="col">From</th>
                  <th scope="col">To, included</th>
                  <th scope="col">Why</th>
                  {mayEdit ? (
                    <th scope="col">
                      <span className="sr-only">Change</span>
                    </th>
                  ) : null}
                </tr>
              </thead>
              <tbody>
                {leaves.map((l) => (
                  <tr key={`${l.member.code} ${l.fromOn}`}>
                    <th scope="row" data-label="Who">
                      {l.member.name}
                    </th>
                    <td data-label="Crew">{l.crew}</td>
                    <td data-label="From">{formatDate(l.fromOn)}</td>
                    <td data-label="To">{formatDate(l.toOn)}</td>
                    <td data-label="Why">{l.reason}</td>
                    {mayEdit ? (
                      <td>
                        <div>
                          <LeaveButton
                            members={members}
                            row={{
                              memberCode: l.member.code,
                              name: l.member.name,
                              fromOn: l.fromOn,
                              toOn: l.toOn,
                              reason: l.reason,
                            }}
                          />
                        </div>
                      </td>
                    ) : null}
                  </tr>
                ))}
              </tbody>
            </table>
          </ScrollRegion>
        )}
      </Panel>
      <Panel
        title="Crews and their weeks"
        note={`${formatCount(crews.length, "crew")}. Times are in each crew's own zone.`}
        flush
      >
        <ScrollRegion label="Crews and their weeks" className="max-md:px-4">
          <table className="ui-facts ui-facts-stack">
            <thead>
              <tr>
                <th scope="col">Crew</th>
                <th scope="col">Members</th>
                <th scope="col">Depot</th>
                <th scope="col">Works</th>
                <th scope="col">Limits</th>
              </tr>
            </thead>
            <tbody>
              {crews.map((c) => (
                <tr key={c.code} id={`crew-${c.code}`}>
                  <th scope="row" data-label="Crew">
                    {c.code} {c.name}
                  </th>
                  <td data-label="Members">
                    <div>
                      {c.members.map((m) => (
                        <span key={m.code} className="block">
                          {m.name}
                          {m.isLead ? ", lead" : ""}
                        </span>
                      ))}
                    </div>
                  </td>
                  <td data-label="Depot">
                    {c.depotPlace}
                    {c.vehiclePlace ? `, vehicle ${c.vehiclePlace}` : ""}
                  </td>
                  <td data-label="Works">
                    <div>
                      {c.weekdays.map((d) => DAYS[d - 1]).join(" ")}
                      <span className="block">
                        {formatClock(c.shiftFromMin)} to {formatClock(c.shiftToMin)}, {c.zone}
                      </span>
                    </div>
                  </td>
                  <td data-label="Limits">
                    <div>
                      overtime {formatDuration(c.overtimeMaxMin)} a day, {formatDuration(c.weeklyMaxMin)} a
                      week, rest {formatDuration(c.restMin)}, {formatCount(c.nightsAwayMax, "night")} away,
                      load {formatQuantity(c.payloadKg, "kg", 0)}
                    </div>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </ScrollRegion>
      </Panel>
    </div>
  );
}
