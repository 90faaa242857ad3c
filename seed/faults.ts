/** Made-up faulty radios of the first stage: one waits on hold, one is in repair, one was exchanged. */
import type { Db } from "@/db/open";
import { recordFault } from "@/db/queries/faultRecord";
import { stepFault } from "@/db/queries/faultSteps";
import type { Hop } from "@/lib/site";
import type { FaultCause } from "@/lib/stock";
import { type TakeoffContext, takeOff } from "@/lib/takeoff";
import { addDays, type CalendarDate } from "@/lib/time";
import { CUSTOMER } from "./vellmark";

const REPAIRER = "Saltmarsh Radio Workshop";

/** All were found on towers of finished hops, so the shelves of today stay as the opening stock left them. */
const FAULTS: readonly {
  serial: string;
  cause: FaultCause;
  symptom: string;
  daysAgo: number;
  becomes: "hold" | "repair" | "exchange";
}[] = [
  {
    serial: "RU-20871",
    cause: "dead on arrival",
    symptom: "no transmit power",
    daysAgo: 45,
    becomes: "exchange",
  },
  {
    serial: "RU-21340",
    cause: "failed in service",
    symptom: "drops out when warm",
    daysAgo: 24,
    becomes: "repair",
  },
  {
    serial: "RU-21402",
    cause: "dead on arrival",
    symptom: "does not answer on the IF cable",
    daysAgo: 6,
    becomes: "hold",
  },
];

export function loadFaultyUnits(
  db: Db,
  hops: readonly Hop[],
  context: TakeoffContext,
  { today, now }: { today: CalendarDate; now: number },
): void {
  const radios = new Set(context.catalogue.filter((i) => i.category === "ODU").map((i) => i.code));
  FAULTS.forEach((f, i) => {
    const hop = hops[i * 3]!;
    const itemCode = takeOff(hop, context).near.lines.find((l) => radios.has(l.itemCode))!.itemCode;
    const by = { name: "Lin Vasquez", at: now - f.daysAgo * 86_400_000 };
    const made = recordFault(
      db,
      {
        key: `demonstration ${f.serial}`,
        itemCode,
        serial: f.serial,
        quantity: 1,
        cause: f.cause,
        symptom: f.symptom,
        warehouseCode: "WH-EAST",
        supplier: CUSTOMER,
        visitId: `${hop.code}/near/install`,
        foundOn: addDays(today, -f.daysAgo),
        today,
      },
      by,
    );
    if (!made.ok) throw new Error(made.problems.map((p) => p.message).join(" "));
    if (f.becomes === "hold") return;
    const step = (daysAgo: number, reason: string, what: Parameters<typeof stepFault>[1]["step"]) => {
      const taken = stepFault(
        db,
        { id: made.value.id, step: what, on: addDays(today, -daysAgo), today, reason },
        { ...by, at: now - daysAgo * 86_400_000 },
      );
      if (!taken.ok) throw new Error(taken.problems.map((p) => p.message).join(" "));
    };
    step(f.daysAgo - 3, "under warranty", {
      kind: "to repair",
      repairer: REPAIRER,
      reference: `RP-${140 + i}`,
      expectedBackOn: addDays(today, 16),
    });
    if (f.becomes === "exchange")
      step(9, "a new unit under warranty", { kind: "exchange", placeCode: "WH-EAST", newSerial: "RU-30016" });
  });
}
