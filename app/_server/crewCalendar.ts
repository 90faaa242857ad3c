/** A crew's calendar address: who may make and revoke it, and what stands under it. */

import { z } from "zod";
import { formatDate, TIED } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import { visitWords } from "@/app/_ui/visitWords";
import type { Db } from "@/db/open";
import {
  type CalendarVisit,
  calendarSecrets,
  loadCalendarVisits,
  removeCalendarAddress,
  setCalendarAddress,
} from "@/db/queries/crewCalendar";
import { addLogEntry } from "@/db/queries/log";
import { loadCrewFacts } from "@/db/queries/week";
import { writeCalendar } from "@/lib/calendar";
import { onSiteFromMin, parseVisitId } from "@/lib/programme";
import { ok, type Problem, refused } from "@/lib/result";
import { addDays, type CalendarDate, instantAt } from "@/lib/time";
import type { ActionContext, ActionDefinition } from "./carryOut";
import { hashOfSecret, isSecretOf, newSecret } from "./secrets";

/** Days that stay in the calendar after their visits ended. */
const DAYS_BACK = 28;
const REFRESH_MIN = 60;

const MAY_SHARE = ["crew lead", "manager", "administrator"] as const;
const input = z.object({ crewCode: z.string().min(1, "Choose a crew.").max(60) });

/** Why this visitor may not share this crew's calendar; undefined when they may. */
function refusalFor({ db, visitor }: ActionContext, crewCode: string): Problem | undefined {
  if (visitor.role === "crew lead" && visitor.crewId !== crewCode)
    return {
      path: "crewCode",
      rule: "other-crew",
      value: crewCode,
      message: `Crew ${crewCode} is not yours.`,
      remedy: "Only its own crew lead, a rollout manager or an administrator may share its calendar.",
    };
  if (loadCrewFacts(db, crewCode)) return undefined;
  return {
    path: "crewCode",
    rule: "crew-unknown",
    value: crewCode,
    message: `There is no crew ${crewCode}.`,
    remedy: "Open My week again and choose a crew.",
  };
}

/** Gives the crew a new address, which the answer shows once; an earlier one stops. */
export const makeCalendarAction: ActionDefinition<typeof input, { path: string }> = {
  name: "make-calendar-address",
  roles: MAY_SHARE,
  input,
  changesData: false,
  isAnswerSecret: true,
  run: ({ crewCode }, context) => {
    const refusal = refusalFor(context, crewCode);
    if (refusal) return refused(refusal);
    const { db, visitor, now } = context;
    const secret = newSecret();
    setCalendarAddress(db, {
      crewCode,
      secretHash: hashOfSecret(secret),
      madeBy: visitor.name,
      madeAt: now,
    });
    addLogEntry(db, {
      at: now,
      userName: visitor.name,
      action: "make calendar address",
      subject: `crew ${crewCode}`,
    });
    return ok({ path: `/calendar/${secret}.ics` });
  },
};

export const revokeCalendarAction: ActionDefinition<typeof input, null> = {
  name: "revoke-calendar-address",
  roles: MAY_SHARE,
  input,
  changesData: false,
  run: ({ crewCode }, context) => {
    const refusal = refusalFor(context, crewCode);
    if (refusal) return refused(refusal);
    const { db, visitor, now } = context;
    if (removeCalendarAddress(db, crewCode))
      addLogEntry(db, {
        at: now,
        userName: visitor.name,
        action: "revoke calendar address",
        subject: `crew ${crewCode}`,
      });
    return ok(null);
  },
};

/** The crew whose calendar is read with this secret; undefined for a secret that is none, or none any more. */
export function crewOfSecret(db: Db, secret: string): string | undefined {
  const fitting = calendarSecrets(db).filter(({ secretHash }) => isSecretOf(secret, secretHash));
  return fitting[0]?.crewCode;
}

/** @param words in the language that the address asks for */
export function calendarOf(db: Db, crewCode: string, today: CalendarDate, words: Words): string {
  const crew = loadCrewFacts(db, crewCode);
  return writeCalendar({
    name: `${words.t("Crew {{crew}}", { crew: crewCode })} ${crew?.name ?? ""}`.trim(),
    refreshMin: REFRESH_MIN,
    events: loadCalendarVisits(db, crewCode, addDays(today, -DAYS_BACK)).map((v) => eventOf(v, words)),
  });
}

/** In words that no reader takes for another day; spaces as a calendar program knows them. */
const dayWords = (day: CalendarDate | null, { locale }: Words): string =>
  formatDate(day, "full", locale).replaceAll(TIED, " ");

/** What stands against a visit, the hardest first: a held or waiting visit is not to be taken for agreed. */
function doubtsOf(
  { hold, unmetGates }: CalendarVisit,
  words: Words,
): { mark: string; lines: string[] } | undefined {
  const { t } = words;
  if (hold === undefined && unmetGates.length === 0) return undefined;
  const held =
    hold === undefined
      ? []
      : [t("On hold, reported by {{name}}: {{reason}}", { name: hold.by, reason: hold.reason })];
  const waits = unmetGates.map(({ kind, owner, state, dueOn }) =>
    state === "dated" && dueOn
      ? t("Not sure yet: waits for {{gate}} ({{owner}}), expected {{day}}.", {
          gate: t(kind),
          owner,
          day: dayWords(dueOn, words),
        })
      : t("Not sure yet: waits for {{gate}} ({{owner}}), no date.", { gate: t(kind), owner }),
  );
  return { mark: held.length > 0 ? t("ON HOLD") : t("NOT SURE"), lines: [...held, ...waits] };
}

function eventOf(v: CalendarVisit, words: Words) {
  const { t, clock } = words;
  const part = parseVisitId(v.visitId)?.part ?? 1;
  // From when the crew is on site, maybe the evening before; without kept hours from when the work begins.
  const arriveMin = onSiteFromMin(v.startMin, v.setupMin) ?? v.startMin ?? 0;
  const named = { work: t(visitWords(v.kind, v)), hop: v.hopCode, side: t(v.side) };
  const what =
    part > 1
      ? t("{{work}} {{hop}}, {{side}} end, visit {{part}}", { ...named, part: String(part) })
      : t("{{work}} {{hop}}, {{side}} end", named);
  const work = t("Work planned from {{start}} to {{end}} ({{zone}})", {
    start: `${dayWords(v.startOn, words)} ${clock(v.startMin)}`,
    end: `${dayWords(v.endOn, words)} ${clock(v.endMin)}`,
    zone: v.zone,
  });
  const doubts = doubtsOf(v, words);
  return {
    uid: `${v.visitId}@bothends`,
    sequence: v.changes,
    changedAt: v.changedAt,
    startsAt: instantAt(v.startOn!, arriveMin, v.zone),
    endsAt: instantAt(v.endOn!, v.endMin ?? 0, v.zone),
    // Many calendars show tentative by a pale colour at most: the title says it.
    summary: doubts ? `${doubts.mark}: ${what}` : what,
    location: `${v.siteCode} ${v.siteName}`,
    position: v.position,
    isTentative: doubts !== undefined,
    description: [
      ...(doubts?.lines ?? []),
      v.setupMin === null
        ? t("{{work}}; set-up comes before.", { work })
        : v.setupMin === 0
          ? t("Set up from the visit before. {{work}}.", { work })
          : t("On site from about {{time}}, set-up first. {{work}}.", { time: clock(arriveMin), work }),
      t("The plan may change: see My week before you leave, for kit, steps and weather."),
      t("A planning aid: it never says that it is safe to climb; the crew on site decides."),
    ].join("\n"),
  };
}
