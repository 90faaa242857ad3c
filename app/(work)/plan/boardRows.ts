/** From what the database has of a plan to what the board draws. */

import { formatCount, formatDate } from "@/app/_ui/format";
import type { BoardVisit, PlanBoardProps, WeatherState } from "@/app/_ui/PlanBoard";
import { packRows } from "@/app/_ui/packRows";
import { FACTOR_LOOK } from "@/app/_ui/weather/factors";
import type { Board, BoardVisitRow } from "@/db/queries/planViews";
import { type HoursMet, parseVisitId } from "@/lib/programme";
import { type CalendarDate, daysBetween } from "@/lib/time";
import { crewsToJson, flatVisit } from "./flatBoard";

export function boardCrewsJson(board: Board): string {
  return crewsToJson(
    board.crews.map((c) => ({
      id: c.code,
      code: `${c.code} ${c.name}`,
      note: `${formatCount(c.people, "person", "people")}, from ${c.depotPlace}`,
      days: c.days,
    })),
  );
}

/** The visits as `visitsFromJson` reads them: text, for thousands cross to the browser at once. */
export function boardVisitsJson(board: Board): string {
  const visits = board.visits
    .filter((v) => v.crewCode !== null || v.doneOn === undefined)
    .map((v) => boardVisit(v, board.plan.firstDay));
  return JSON.stringify(packRows(visits.map(flatVisit)));
}

function boardVisit(v: BoardVisitRow, firstDay: CalendarDate): BoardVisit {
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
    weather: v.crewCode === null || v.doneOn ? undefined : weatherWords(v.weather, v.riskMin),
    kit: v.kit && {
      state: v.kit.state,
      text:
        v.kit.state === "short"
          ? formatCount(v.kit.shortLines, "line")
          : v.kit.state === "expected"
            ? `whole on ${formatDate(v.kitReadyOn, "weekday")}`
            : `picked ${formatDate(v.kit.pickOn, "weekday")}`,
    },
    isPinned: v.isPinned,
    isLate: v.isLate,
    togetherId: v.togetherId,
    rule: v.unplacedRule ?? undefined,
    detail: v.unplacedDetail ?? undefined,
  };
}

function laterPart(visitId: string): number | undefined {
  const part = parseVisitId(visitId)?.part ?? 1;
  return part > 1 ? part : undefined;
}

/** All hours of the visit within limits, some, or none; beyond the forecast what past years add. */
export function weatherWords(
  hours: HoursMet | undefined,
  riskMin: number,
): { state: WeatherState; text: string } {
  if (!hours) {
    return {
      state: "climate",
      text:
        riskMin > 0 ? `past years: one in five takes ${Math.round(riskMin / 6) / 10} h longer` : "past years",
    };
  }
  const text = `${hours.metH} of ${hours.ofH} h${hours.factor === "none" ? "" : `, ${FACTOR_LOOK[hours.factor].word}`}`;
  if (hours.metH === hours.ofH) return { state: "met", text };
  return { state: hours.metH === 0 ? "not met" : "tight", text };
}

export function boardDayHours(board: Board): NonNullable<PlanBoardProps["dayHours"]> {
  return board.dayHours.map((d) => d && { metH: d.metH, ofH: d.ofH, text: FACTOR_LOOK[d.factor].word });
}
