import type { Db } from "@/db/open";
import { loadCatalogue } from "@/db/queries/catalogue";
import { loadHung } from "@/db/queries/hung";
import { serialsIssued } from "@/db/queries/kitSerials";
import { variantItems } from "@/db/queries/spares";
import type { VisitDesk } from "@/db/queries/visitDesk";
import type { HungRadio } from "./HungFields";

/** Radios that an install or a revisit may hang, with what is known to hang there. */
export function radiosOf(db: Db, { visit, hop, end }: Pick<VisitDesk, "visit" | "hop" | "end">): HungRadio[] {
  if (visit.kind !== "install" && visit.kind !== "revisit") return [];
  const hanging = loadHung(db, { hopCodes: [hop.code], onlyStanding: true });
  const issued = serialsIssued(db, visit.visitId);
  const variantOf = variantItems(loadCatalogue(db));
  return end.odus.map((o) => ({
    label: o.label,
    role: o.role,
    serial: hanging.find((h) => h.side === end.side && h.oduLabel === o.label)?.serial ?? "",
    inKit: issued.get(variantOf(o) ?? "") ?? [],
  }));
}
