import { phrase } from "@/lib/phrase";
import { sentences } from "@/lib/result";
import { isKnownZone } from "@/lib/time";
import type { RowFault } from "../types";

/** Asking the time zone database costs more than the rest of a row together, so answers are kept. */
const known = new Map<string, boolean>();

export function zoneFaults(zone: string): RowFault[] {
  const isKnown = known.get(zone) ?? (/^[A-Za-z]/.test(zone) && isKnownZone(zone));
  if (known.size < 1000) known.set(zone, isKnown); // a file of nonsense must not fill the memory
  if (isKnown) return [];
  return [
    {
      key: "zone",
      rule: "zone-unknown",
      value: zone,
      ...sentences(
        phrase('"{{zone}}" is not a time zone.', { zone }),
        phrase("Write an IANA name such as Europe/Zurich."),
      ),
    },
  ];
}
