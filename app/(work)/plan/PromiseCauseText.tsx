import Link from "next/link";
import type { ReactNode } from "react";
import { formatDate, formatShare } from "@/app/_ui/format";
import { places, withParts } from "@/app/_ui/language/parts";
import { readingText } from "@/app/_ui/language/readingText";
import type { Words } from "@/app/_ui/language/words";
import type { CausingVisit, PromiseCause } from "@/lib/programme";
import type { CalendarDate } from "@/lib/time";
import { SKILL_WORDS } from "../rules/words";
import { sayVisit } from "./sayVisit";
import { whyWords } from "./why";

/** One cause of a promise that is missed, or likely to be. */
export function PromiseCauseText({ cause, words }: { cause: PromiseCause; words: Words }) {
  const { t, locale } = words;
  // Beside the visit's day, which stands in the same line or table.
  const year = "visit" in cause ? cause.visit.startOn?.slice(0, 4) : undefined;
  const day = (on: CalendarDate | null | undefined) =>
    formatDate(on, !on || !year || on.startsWith(year) ? "weekday" : "full", locale);
  const share = (of: number) => formatShare(of, 0, locale);
  switch (cause.kind) {
    case "promise past":
      return t("the promise, {{day}}, has passed", { day: day(cause.on) });
    case "revisit":
      return withParts(
        t("a reading failed ({{failed}}); the revisit is planned on {{day}}", {
          ...places("failed"),
          day: day(cause.visit.startOn),
        }),
        { failed: readingText(cause.failed, words) },
      );
    case "shut gate":
      return shutText(cause, day, words);
    case "gate":
      return t("{{visit}} begins on {{day}}, soon after its gate {{gate}} opens on {{from}}", {
        visit: visitName(cause.visit, words),
        day: day(cause.visit.startOn),
        gate: t(cause.gate.kind),
        from: day(cause.opensOn),
      });
    case "kit":
      return t("{{visit}} begins on {{day}}, soon after its kit can be whole, on {{from}}", {
        visit: visitName(cause.visit, words),
        day: day(cause.visit.startOn),
        from: day(cause.readyOn),
      });
    case "certificate":
      return t(
        "the certificate of {{name}} for {{skill}} ends on {{day}}; {{visit}} of crew {{crew}} slips past it in {{share}} of runs",
        {
          name: cause.certificate.memberName,
          skill: t(SKILL_WORDS[cause.certificate.skill]),
          day: day(cause.certificate.endsOn),
          visit: visitName(cause.visit, words),
          crew: cause.visit.crewCode ?? "",
          share: share(cause.share),
        },
      );
    case "people":
      return t("crew {{crew}} lacks people for {{visit}} when it slips, in {{share}} of runs", {
        crew: cause.visit.crewCode ?? "",
        visit: visitName(cause.visit, words),
        share: share(cause.share),
      });
    case "short":
      return t("{{visit}} of crew {{crew}}, {{day}}: {{short}}", {
        visit: visitName(cause.visit, words),
        crew: cause.visit.crewCode ?? "",
        day: day(cause.visit.startOn),
        short: whyWords(`the crew is ${cause.short} short`, words),
      });
    case "people changed":
      return withParts(
        t("{{visit}} of crew {{crew}}: who may do it changed since the last runs, work them out again", {
          ...places("visit"),
          crew: cause.visit.crewCode ?? "",
        }),
        { visit: <VisitLink visit={cause.visit} words={words} /> },
      );
    case "crew away":
      return awayText(cause, words);
    case "slack":
      return slackText(cause.days, day(cause.p50On), cause.p50On !== undefined, words);
    case "other work":
      return t("neither a gate nor a kit holds it: crews and weather left no earlier day");
  }
}

/** Several causes of one kind may stand beside each other. */
export const causeKey = (cause: PromiseCause): string =>
  [
    cause.kind,
    ...("visit" in cause ? [cause.visit.visitId] : []),
    ...("visits" in cause ? cause.visits.map((v) => v.visitId) : []),
    ...("gate" in cause ? [cause.gate.side ?? "", cause.gate.kind] : []),
  ].join(" ");

/** Of the hop itself or of another: by its whole name, with the way to where it can be moved. */
const VisitLink = ({ visit, words }: { visit: CausingVisit; words: Words }) => (
  <Link href={`/plan?visit=${encodeURIComponent(visit.visitId)}`}>{sayVisit(visit.visitId, words)}</Link>
);

function awayText(
  { visit, share, gap, hops }: Extract<PromiseCause, { kind: "crew away" }>,
  words: Words,
): ReactNode {
  const { t, locale } = words;
  const year = visit.startOn?.slice(0, 4) ?? "";
  const said = {
    ...places("visit"),
    crew: visit.crewCode ?? "",
    day: formatDate(gap.fromOn, gap.fromOn.startsWith(year) ? "weekday" : "full", locale),
    share: formatShare(share, 0, locale),
  };
  const isOnIt = visit.startOn !== null && visit.startOn >= gap.fromOn;
  const slips = isOnIt
    ? gap.isLeave
      ? t("{{visit}} of crew {{crew}} falls on its leave from {{day}}", said)
      : t("{{visit}} of crew {{crew}} falls on days, from {{day}} on, when the crew lacks people", said)
    : gap.isLeave
      ? t("{{visit}} of crew {{crew}} slips past its leave from {{day}} in {{share}} of runs", said)
      : t(
          "{{visit}} of crew {{crew}} slips past {{day}}, when the crew lacks people, in {{share}} of runs",
          said,
        );
  const text = hops > 0 ? `${slips}; ${t("{{count}} hops wait behind it", { count: hops })}` : slips;
  return withParts(text, { visit: <VisitLink visit={visit} words={words} /> });
}

function shutText(
  { visits, gate }: Extract<PromiseCause, { kind: "shut gate" }>,
  day: (on: CalendarDate | null | undefined) => string,
  words: Words,
): string {
  const { t } = words;
  const hasNoDate = gate.state === "open" || gate.dueOn === undefined;
  const [visit] = visits;
  if (visits.length > 1) {
    const several = {
      gate: t(gate.kind),
      visits: visits
        .map((v) => t("{{visit}} ({{when}})", { visit: visitName(v, words), when: day(v.startOn) }))
        .join(", "),
    };
    return hasNoDate
      ? t(
          "planned, but their gate ({{gate}}) is open and has no date: {{visits}}; date it, or solve anew",
          several,
        )
      : t("planned before their gate ({{gate}}) opens on {{from}}: {{visits}}; solve anew or move them", {
          ...several,
          from: day(gate.dueOn),
        });
  }
  const said = { visit: visitName(visit!, words), day: day(visit!.startOn), gate: t(gate.kind) };
  return hasNoDate
    ? t(
        "{{visit}} is planned on {{day}}, but its gate ({{gate}}) is open and has no date: date it, or solve anew",
        said,
      )
    : t(
        "{{visit}} is planned on {{day}} before its gate ({{gate}}) opens on {{from}}: solve anew or move it",
        {
          ...said,
          from: day(gate.dueOn),
        },
      );
}

function slackText(days: number, p50: string, hasP50: boolean, { t }: Words): string {
  const planned =
    days === 0
      ? t("planned on the very day of the promise")
      : t("planned {{count}} days before the promise", { count: days });
  return hasP50 ? `${planned}; ${t("half of the runs end after {{day}}", { day: p50 })}` : planned;
}

const visitName = ({ side, kind }: { side: string; kind: string }, { t }: Words) =>
  t("{{side}} {{kind}}", { side: t(side), kind: t(kind) });
