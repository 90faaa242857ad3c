/** From what the database has of a plan to what the board draws. */

import { formatDate } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import type { BoardVisit, PlanBoardProps, WeatherState } from "@/app/_ui/PlanBoard";
import { packRows } from "@/app/_ui/packRows";
import { FACTOR_LOOK } from "@/app/_ui/weather/factors";
import type { Board, BoardVisitRow } from "@/db/queries/planViews";
import { parseVisitId, type VisitHoursMet } from "@/lib/programme";
import { type CalendarDate, daysBetween } from "@/lib/time";
import { crewsToJson, flatVisit } from "./flatBoard";
import { whyWords } from "./why";

export function boardCrewsJson(board: Board, { t, say }: Words): string {
  return crewsToJson(
    board.crews.map((c) => ({
      id: c.code,
      code: `${c.code} ${c.name}`,
      note: t("{{count}} people, from {{place}}", { count: c.people, place: c.depotPlace }),
      days: c.days.map(({ works, why }) => ({ works, why: why && say(why) })),
    })),
  );
}

/** The visits as `visitsFromJson` reads them: text, for thousands cross to the browser at once. */
export function boardVisitsJson(board: Board, words: Words): string {
  const visits = board.visits
    .filter((v) => v.crewCode !== null || (v.doneOn === undefined && !v.isWithdrawn))
    .map((v) => boardVisit(v, board.plan.firstDay, words));
  return JSON.stringify(packRows(visits.map(flatVisit)));
}

function boardVisit(v: BoardVisitRow, firstDay: CalendarDate, words: Words): BoardVisit {
  const { t, locale } = words;
  const day = (on: CalendarDate | null) => (on === null ? 0 : daysBetween(firstDay, on));
  return {
    id: v.visitId,
    crewId: v.crewCode,
    kind: v.kind,
    part: laterPart(v.visitId),
    hopCode: v.hopCode,
    siteCode: v.siteCode,
    startDay: day(v.startOn),
    startMin: v.startMin ?? 0,
    endDay: day(v.endOn),
    endMin: v.endMin ?? 0,
    weather:
      v.crewCode === null || v.doneOn || v.isWithdrawn
        ? undefined
        : weatherWords(v.weather, v.riskMin, words),
    kit: v.kit && {
      state: v.kit.state,
      text:
        v.kit.state === "short"
          ? t("{{count}} lines", { count: v.kit.shortLines })
          : v.kit.state === "expected"
            ? t("can be whole on {{day}}", { day: formatDate(v.kitReadyOn, "weekday", locale) })
            : t("pick day {{day}}", { day: formatDate(v.kit.pickOn, "weekday", locale) }),
    },
    report: v.isWithdrawn
      ? { state: "withdrawn", text: "" }
      : v.report && {
          state: v.report.outcome,
          text: [
            v.doneOn ? formatDate(v.doneOn, "weekday", locale) : (v.report.holdReason ?? ""),
            // Worked by a crew that had it before this plan.
            v.report.crewCode === v.crewCode ? "" : t("by crew {{crew}}", { crew: v.report.crewCode }),
          ]
            .filter(Boolean)
            .join(", "),
        },
    crewShort:
      v.missing &&
      t("{{short}} from {{day}}", {
        short: whyWords(`the crew is ${v.missing.short} short`, words),
        day: formatDate(v.missing.on, "weekday", locale),
      }),
    isPinned: v.isPinned,
    isLate: v.isLate,
    isBeforeGate: v.isBeforeGate,
    togetherId: v.togetherId,
    rule: v.unplacedRule === null ? undefined : whyWords(v.unplacedRule, words),
    detail: v.unplacedDetail === null ? undefined : whyWords(v.unplacedDetail, words),
  };
}

function laterPart(visitId: string): number | undefined {
  const part = parseVisitId(visitId)?.part ?? 1;
  return part > 1 ? part : undefined;
}

/** All hours of the visit within limits, some, or none; beyond the forecast, and of days beyond it, what past years add. */
export function weatherWords(
  hours: VisitHoursMet | undefined,
  riskMin: number,
  { t, locale }: Words,
): { state: WeatherState; text: string } {
  if (!hours) {
    return {
      state: "climate",
      text:
        riskMin > 0
          ? t("past years: one in five takes {{hours}} h longer", { hours: Math.round(riskMin / 6) / 10 })
          : t("past years"),
    };
  }
  const { metH: met, ofH: of } = hours;
  const counted = hours.isWhole
    ? t("{{met}} of {{of}} h", { met, of })
    : t("{{met}} of {{of}} h up to {{day}}, no forecast beyond", {
        met,
        of,
        day: formatDate(hours.until, "weekday", locale),
      });
  const text = hours.factor === "none" ? counted : `${counted}, ${t(FACTOR_LOOK[hours.factor].word)}`;
  if (met === of) return { state: hours.isWhole ? "met" : "climate", text };
  return { state: hours.metH === 0 ? "not met" : "tight", text };
}

export function boardDayHours(board: Board, { t }: Words): NonNullable<PlanBoardProps["dayHours"]> {
  return board.dayHours.map(
    (d) =>
      d && {
        metH: d.metH,
        ofH: d.ofH,
        lost: d.metH < d.ofH && d.factor !== "none" ? t(FACTOR_LOOK[d.factor].word) : undefined,
      },
  );
}
