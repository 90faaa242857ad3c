import type { EndSide, Hop, LinkEnd } from "@/lib/site";
import type { AskedReading } from "./types";

/** Id of the reading of the hop as a whole. */
export const ERROR_RUN = "error run";

/**
 * The readings that a hop is accepted by: receive level of each ODU at either end, cross-polar discrimination where
 * both polarisations carry traffic, switch-over where there is a standby, earth resistance and photos at each end, and
 * one error run over the hop. Common practice: the customer's acceptance procedure comes first.
 */
export function readingsAsked(hop: Pick<Hop, "scheme" | "near" | "far">): AskedReading[] {
  return [...endReadings(hop, "near"), ...endReadings(hop, "far"), errorRun];
}

const errorRun: AskedReading = { id: ERROR_RUN, kind: "error run", form: { figure: "s" } };

function endReadings(hop: Pick<Hop, "scheme" | "near" | "far">, side: EndSide): AskedReading[] {
  const end: LinkEnd = hop[side];
  const levels = end.odus.map(
    (odu): AskedReading => ({
      id: `${side}/receive level/${odu.label}`,
      kind: "receive level",
      side,
      oduLabel: odu.label,
      form: { figure: "dBm" },
      targetLevelDbm: odu.targetLevelDbm,
    }),
  );
  const asked: AskedReading[] = [...levels];
  if (hop.scheme === "2+0 dual-polar") {
    asked.push({ id: `${side}/cross-polar`, kind: "cross-polar", side, form: { figure: "dB" } });
  }
  if (hop.scheme.startsWith("1+1")) {
    asked.push({ id: `${side}/switch-over`, kind: "switch-over", side, form: "passed" });
  }
  asked.push(
    { id: `${side}/earth resistance`, kind: "earth resistance", side, form: { figure: "ohm" } },
    { id: `${side}/photos`, kind: "photos", side, form: "passed" },
  );
  return asked;
}
