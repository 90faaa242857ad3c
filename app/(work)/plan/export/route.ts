/** A plan as CSV: one row per visit that the person sees, as the board has it. */
import { z } from "zod";
import { defineRoute, problemResponse } from "@/app/_server/action";
import { homeToday } from "@/app/_server/clock";
import { fileAnswer } from "@/app/_server/fileAnswer";
import { noSuchPlan } from "@/app/_server/planEdits";
import { ofSeenHops } from "@/app/_server/regions";
import { formatClock } from "@/app/_ui/format";
import { loadPlan, planInForce } from "@/db/queries/plans";
import { type BoardVisitRow, loadBoard } from "@/db/queries/planViews";
import { encodeCsv, guardText } from "@/lib/exchange";

const HEAD = [
  "visit",
  "kind",
  "hop",
  "end",
  "site",
  "crew",
  "start date",
  "start time",
  "end date",
  "end time",
  "planned work with set-up [min]",
  "weather P80 extra [min]",
  "kit whole on",
  "kit",
  "promise",
  "late",
  "pinned",
  "weather hours met",
  "not placed: rule",
  "not placed: detail",
  "withdrawn",
];

function cells(v: BoardVisitRow): string[] {
  const text = (value: string | null | undefined) => guardText(value ?? "");
  return [
    text(v.visitId),
    v.kind,
    text(v.hopCode),
    v.side,
    text(v.siteCode),
    text(v.crewCode),
    v.startOn ?? "",
    v.startMin === null ? "" : formatClock(v.startMin),
    v.endOn ?? "",
    v.endMin === null ? "" : formatClock(v.endMin),
    String(v.durationMin),
    String(v.riskMin),
    v.kitReadyOn ?? "",
    v.kit?.state ?? "",
    v.promisedOn ?? "",
    v.isLate ? "yes" : "no",
    v.isPinned ? "yes" : "no",
    v.weather
      ? `${v.weather.metH} of ${v.weather.ofH}${v.weather.isWhole ? "" : ` up to ${v.weather.until}`}`
      : "",
    text(v.unplacedRule),
    text(v.unplacedDetail),
    v.isWithdrawn ? "yes" : "no",
  ];
}

export const GET = defineRoute({
  roles: ["administrator", "manager", "logistics"],
  reach: "any",
  input: z.object({ plan: z.coerce.number().int().positive().optional() }),
  run: ({ plan }, { db, visitor }) => {
    const head = plan === undefined ? planInForce(db) : loadPlan(db, plan);
    if (!head) return problemResponse([noSuchPlan(plan ?? 0)]);
    const visits = ofSeenHops(db, visitor, loadBoard(db, head, homeToday(db)).visits);
    return fileAnswer(`plan-${head.id}-${head.firstDay}`, "csv", encodeCsv([HEAD, ...visits.map(cells)], {}));
  },
});
