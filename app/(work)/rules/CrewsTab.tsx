import Link from "next/link";
import { homeToday } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";
import { formatDate, formatDuration, formatNumber, formatQuantity } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import { sayVisit } from "@/app/(work)/plan/sayVisit";
import { whyWords } from "@/app/(work)/plan/why";
import type { Db } from "@/db/open";
import { loadCrews } from "@/db/queries/crews";
import { loadVisitsMissingPeople } from "@/db/queries/missingPeople";
import { loadCertificates } from "@/db/queries/rules";
import { SKILLS } from "@/lib/hours";
import { addDays, type CalendarDate } from "@/lib/time";
import { CertificateButton, LeaveButton, type MemberChoice } from "./CrewEdits";
import { SKILL_WORDS } from "./words";

/** A Monday; any does, for the names of the days of its week. */
const MONDAY = "2026-01-05" as CalendarDate;

/** Crews, who is in them, what their certificates say and who is away. */
export async function CrewsTab({ db, mayEdit }: { db: Db; mayEdit: boolean }) {
  const { t, locale, clock } = await serverWords();
  const today = homeToday(db);
  const crews = loadCrews(db);
  if (crews.length === 0)
    return (
      <EmptyState
        title={t("No crews yet")}
        actions={<LinkButton href="/import">{t("Bring in crews")}</LinkButton>}
      >
        {t("Crews, their members and certificates come in from a spreadsheet.")}
      </EmptyState>
    );
  const certificates = loadCertificates(db, today);
  const expired = certificates.filter((c) => c.state === "expired").length;
  const expiring = certificates.filter((c) => c.state === "expiring").length;
  const members: MemberChoice[] = crews.flatMap((c) =>
    c.members.map((m) => ({ code: m.code, name: m.name, crew: c.code })),
  );
  const skills = SKILLS.map((s) => ({ value: s, label: t(SKILL_WORDS[s]) }));
  const leaves = crews
    .flatMap((c) => c.members.flatMap((m) => m.leave.map((l) => ({ ...l, crew: c.code, member: m }))))
    .filter((l) => l.toOn >= today)
    .sort((a, b) =>
      a.fromOn < b.fromOn ? -1 : a.fromOn > b.fromOn ? 1 : a.member.name < b.member.name ? -1 : 1,
    );
  return (
    <div className="grid gap-4">
      <Panel
        title={t("Certificates")}
        note={t(
          "{{expired}}, {{expiring}} expiring within 30 days. Soonest first; without its certificate nobody is planned for that work.",
          {
            expired: expired === 0 ? t("None expired") : t("{{expired}} expired", { expired }),
            expiring: expiring === 0 ? t("none (of many)") : formatNumber(expiring, 0, locale),
          },
        )}
        actions={mayEdit ? <CertificateButton members={members} skills={skills} /> : undefined}
        flush
      >
        <ScrollRegion label={t("Certificates")} className="max-md:px-4">
          <table className="ui-facts ui-facts-stack">
            <thead>
              <tr>
                <th scope="col">{t("Who")}</th>
                <th scope="col">{t("Crew")}</th>
                <th scope="col">{t("For")}</th>
                <th scope="col">{t("Valid until")}</th>
                <th scope="col">{t("State")}</th>
                {mayEdit ? (
                  <th scope="col">
                    <span className="sr-only">{t("Change (verb)")}</span>
                  </th>
                ) : null}
              </tr>
            </thead>
            <tbody>
              {certificates.map((c) => (
                <tr key={`${c.memberCode} ${c.skill}`}>
                  <th scope="row" data-label={t("Who")}>
                    {c.memberName}
                  </th>
                  <td data-label={t("Crew")}>{c.crewCode}</td>
                  <td data-label={t("For")}>{t(SKILL_WORDS[c.skill])}</td>
                  <td data-label={t("Valid until")}>
                    {c.validUntil ? formatDate(c.validUntil, "full", locale) : t("no end")}
                  </td>
                  <td data-label={t("State")}>
                    {c.state === "expired" ? (
                      <StateMark state="late">{t("Expired")}</StateMark>
                    ) : c.state === "expiring" ? (
                      <StateMark state="warn">{t("Expires soon")}</StateMark>
                    ) : (
                      <StateMark state="met">{c.state === "valid" ? t("Valid") : t("No end")}</StateMark>
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
        title={t("Leave")}
        note={t("From today on. A plan that is solved now plans nobody on leave.")}
        actions={mayEdit ? <LeaveButton members={members} /> : undefined}
        flush
      >
        {leaves.length === 0 ? (
          <p className="px-4 py-3">
            {t("Nobody is away from {{day}} on.", { day: formatDate(today, "full", locale) })}
          </p>
        ) : (
          <ScrollRegion label={t("Leave")} className="max-md:px-4">
            <table className="ui-facts ui-facts-stack">
              <thead>
                <tr>
                  <th scope="col">{t("Who")}</th>
                  <th scope="col">{t("Crew")}</th>
                  <th scope="col">{t("From")}</th>
                  <th scope="col">{t("To, included")}</th>
                  <th scope="col">{t("Why")}</th>
                  {mayEdit ? (
                    <th scope="col">
                      <span className="sr-only">{t("Change (verb)")}</span>
                    </th>
                  ) : null}
                </tr>
              </thead>
              <tbody>
                {leaves.map((l) => (
                  <tr key={`${l.member.code} ${l.fromOn}`}>
                    <th scope="row" data-label={t("Who")}>
                      {l.member.name}
                    </th>
                    <td data-label={t("Crew")}>{l.crew}</td>
                    <td data-label={t("From")}>{formatDate(l.fromOn, "full", locale)}</td>
                    <td data-label={t("To")}>{formatDate(l.toOn, "full", locale)}</td>
                    <td data-label={t("Why")}>{l.reason}</td>
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
      <MissingPeople rows={loadVisitsMissingPeople(db, today)} />
      <Panel
        title={t("Crews and their weeks")}
        note={t("{{crews}}. Times are in each crew's own zone.", {
          crews: t("{{count}} crews", { count: crews.length }),
        })}
        flush
      >
        <ScrollRegion label={t("Crews and their weeks")} className="max-md:px-4">
          <table className="ui-facts ui-facts-stack">
            <thead>
              <tr>
                <th scope="col">{t("Crew")}</th>
                <th scope="col">{t("Members")}</th>
                <th scope="col">{t("Depot")}</th>
                <th scope="col">{t("Works")}</th>
                <th scope="col">{t("Limits")}</th>
              </tr>
            </thead>
            <tbody>
              {crews.map((c) => (
                <tr key={c.code} id={`crew-${c.code}`}>
                  <th scope="row" data-label={t("Crew")}>
                    {c.code} {c.name}
                  </th>
                  <td data-label={t("Members")}>
                    <div>
                      {c.members.map((m) => (
                        <span key={m.code} className="block">
                          {m.name}
                          {m.isLead ? `, ${t("lead")}` : ""}
                        </span>
                      ))}
                    </div>
                  </td>
                  <td data-label={t("Depot")}>
                    {c.depotPlace}
                    {c.vehiclePlace ? `, ${t("vehicle {{place}}", { place: c.vehiclePlace })}` : ""}
                  </td>
                  <td data-label={t("Works")}>
                    <div>
                      {c.weekdays
                        .map((d) => formatDate(addDays(MONDAY, d - 1), "weekdayOnly", locale))
                        .join(" ")}
                      <span className="block">
                        {t("{{from}} to {{to}}, {{zone}}", {
                          from: clock(c.shiftFromMin),
                          to: clock(c.shiftToMin),
                          zone: c.zone,
                        })}
                      </span>
                    </div>
                  </td>
                  <td data-label={t("Limits")}>
                    <div>
                      {t(
                        "overtime {{overtime}} a day, {{weekly}} a week, rest {{rest}}, {{nights}} away, load {{load}}",
                        {
                          overtime: formatDuration(c.overtimeMaxMin, locale),
                          weekly: formatDuration(c.weeklyMaxMin, locale),
                          rest: formatDuration(c.restMin, locale),
                          nights: t("{{count}} nights", { count: c.nightsAwayMax }),
                          load: formatQuantity(c.payloadKg, "kg", 0, locale),
                        },
                      )}
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

const MOST_SHOWN = 12;

/** By leave or for want of certificates: first those for which who is left does not suffice. */
async function MissingPeople({ rows }: { rows: ReturnType<typeof loadVisitsMissingPeople> }) {
  const words = await serverWords();
  const { t } = words;
  const sorted = [...rows].sort((a, b) => Number(a.short === "") - Number(b.short === ""));
  const more = sorted.length - MOST_SHOWN;
  return (
    <Panel
      title={t("Visits that miss people")}
      note={t("Of the plan in force, by leave and certificates as they are now.")}
    >
      {rows.length === 0 ? (
        <p>{t("No visit of the plan in force misses anybody.")}</p>
      ) : (
        <>
          <p>{t("{{count}} visits of the plan in force miss people:", { count: rows.length })}</p>
          <ul className="mt-2 grid gap-1">
            {sorted.slice(0, MOST_SHOWN).map(({ visit, crew, on, away, short }) => (
              <li key={visit.visitId}>
                <Link href={`/plan?visit=${encodeURIComponent(visit.visitId)}`}>
                  {sayVisit(visit.visitId, words)}
                </Link>
                {dayAndCrew(on, crew.code, away, words)}
                {short === "" ? (
                  t("who is left may do it")
                ) : (
                  <StateMark state="late" isFreeText>
                    {whyWords(`the crew is ${short} short`, words)}
                  </StateMark>
                )}
              </li>
            ))}
          </ul>
          {more > 0 ? <p className="mt-2">{t("and {{count}} more", { count: more })}</p> : null}
          <p className="mt-2">
            <Link href="/plan">{t("Move them on the board, or solve a new plan")}</Link>
          </p>
        </>
      )}
    </Panel>
  );
}

function dayAndCrew(
  on: CalendarDate,
  crew: string,
  away: readonly { name: string }[],
  { t, locale }: Words,
): string {
  const day = formatDate(on, "weekday", locale);
  return away.length === 0
    ? t(", {{day}}, crew {{crew}}: ", { day, crew })
    : t(", {{day}}, crew {{crew}} without {{people}}: ", {
        day,
        crew,
        people: away.map((m) => m.name).join(", "),
      });
}
