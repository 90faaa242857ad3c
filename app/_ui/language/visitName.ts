import { parseVisitId } from "@/lib/visitIds";
import type { Words } from "./words";

/** `H-012/near/install` -> `H-012 near`; any other work of the end is named: `H-012 near revisit, part 2`. */
export function visitName(visitId: string, t: Words["t"]): string {
  const named = parseVisitId(visitId);
  if (named && named.kind !== "install") {
    const of = { hop: named.hopCode, side: t(named.side), kind: t(named.kind) };
    return named.part > 1
      ? t("{{hop}} {{side}} {{kind}}, part {{part}}", { ...of, part: named.part })
      : t("{{hop}} {{side}} {{kind}}", of);
  }
  const [hopCode, side] = visitId.split("/");
  return side ? `${hopCode} ${t(side)}` : visitId;
}
