import type { VisitKind } from "@/lib/schedule";
import type { AcceptanceProcedure } from "@/lib/site";

/** What a visit does, as a crew says it. */
export function visitWords(
  kind: VisitKind,
  { acceptance, remedy }: { acceptance?: AcceptanceProcedure; remedy?: string } = {},
): string {
  switch (kind) {
    case "install":
      return "Install";
    case "alignment":
      return acceptance === "own visit" ? "Alignment" : "Alignment and acceptance";
    case "acceptance":
      return "Acceptance";
    case "revisit":
      return remedy ? `Revisit (${remedy})` : "Revisit";
  }
}
