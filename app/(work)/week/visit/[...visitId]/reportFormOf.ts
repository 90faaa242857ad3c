/** What a visit's report form begins with: of the crew that has it, and of one that worked there by an earlier plan. */
import type { ComponentProps } from "react";
import { machineNow, nowMillis, today } from "@/app/_server/clock";
import type { Words } from "@/app/_ui/language/words";
import type { Db } from "@/db/open";
import { loadCatalogue } from "@/db/queries/catalogue";
import { vehiclesOfReport } from "@/db/queries/kitOut";
import { lostRunsOf } from "@/db/queries/lostRuns";
import { latestOf, usesOfVisit } from "@/db/queries/reports";
import { leftOutOn } from "@/db/queries/vehicleOpened";
import type { VisitDesk } from "@/db/queries/visitDesk";
import { loadVisitKnown } from "@/db/queries/visitKnown";
import type { JudgedReading } from "@/lib/acceptance";
import { type PartMinutes, partMinutes } from "@/lib/calibration";
import type { CatalogueItem } from "@/lib/site";
import type { FaultChoice } from "./FaultFields";
import type { ReportForm } from "./ReportForm";
import { radiosOf } from "./radios";
import { reportLines } from "./reportLines";

export function reportFormOf(
  db: Db,
  desk: VisitDesk,
  userId: string,
  words: Words,
): ComponentProps<typeof ReportForm> {
  const { t } = words;
  const { visit, site, hop, end, kit, crew } = desk;
  const last = latestOf(desk.reports);
  // Another crew's work is not corrected from here, only added to.
  const doneReport =
    last?.outcome === "done" && (!desk.isHandedOver || last.crewCode === crew.code) ? last : undefined;
  const items = loadCatalogue(db);
  const day = today(site.zone, db);
  const opened = {
    vehicle: vehiclesOfReport(db, visit.visitId, crew, desk.isHandedOver)[0] ?? null,
    isDone: last?.outcome === "done",
  };
  return {
    visitId: visit.visitId,
    label: `${site.code}, ${hop.code} ${t(end.side)} ${t(visit.kind)}`,
    userId,
    lastSeenReportId: last?.id ?? 0,
    today: day,
    known: loadVisitKnown(db, desk.planId, visit, {
      shiftFromMin: crew.shiftFromMin,
      correctedId: doneReport?.id,
    }),
    clock: { zone: crew.zone, behindMillis: machineNow() - nowMillis(db) },
    readings: readingsOf(desk),
    tasks: timedTasks(desk),
    lines: reportLines(kit?.lines ?? [], usesOfVisit(db, visit.visitId), {
      correctedId: doneReport?.id,
      isIssued: kit?.state === "issued",
      lostRuns: lostRunsOf(db, visit.visitId),
      leftOut: new Set(kit ? leftOutOn(db, { planId: desk.planId, kit, ...opened }, day) : []),
      items,
      words,
    }),
    last: doneReport && {
      workedMin: doneReport.workedMin,
      workedOn: doneReport.workedOn,
      note: doneReport.note,
    },
    isKitOnShelf: kit !== undefined && kit.state !== "issued",
    units: unitsOf(kit?.lines ?? [], items),
    radios: radiosOf(db, desk),
  };
}

/** Work in several visits and revisits are not compared task by task. */
function timedTasks({ visit, estimate, norms }: VisitDesk): PartMinutes[] {
  const isCompared = visit.kind === "install" || visit.kind === "alignment";
  return isCompared && !estimate.parts ? partMinutes(estimate, norms) : [];
}

/** Pieces of the kit, each item once, radio units first: they are what fails. */
function unitsOf(
  lines: readonly { itemCode: string; runId: string | null }[],
  catalogue: readonly CatalogueItem[],
): FaultChoice[] {
  const inKit = new Set(lines.filter((l) => l.runId === null).map((l) => l.itemCode));
  return catalogue
    .filter((i) => inKit.has(i.code) && i.unit === "piece")
    .map((i) => ({ itemCode: i.code, name: i.name, needsSerial: i.category === "ODU" }))
    .sort((a, b) => Number(b.needsSerial) - Number(a.needsSerial));
}

/** Readings to take on this visit: of its own end, on every visit that follows the install. */
function readingsOf({ visit, hop, acceptance }: VisitDesk): JudgedReading[] {
  const isTakenNow =
    visit.kind === "acceptance" ||
    visit.kind === "revisit" ||
    (visit.kind === "alignment" && hop.acceptance === "with the alignment");
  return isTakenNow ? acceptance.readings.filter((r) => r.asked.side === visit.side) : [];
}
