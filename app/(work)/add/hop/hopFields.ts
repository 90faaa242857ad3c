import type { DecimalMark } from "@/lib/exchange";
import { fieldsOf } from "../fields";

/** The fields of a hop and of all its parts. */
export const hopFields = (decimal: DecimalMark) => ({
  hops: fieldsOf("hops", decimal),
  ends: fieldsOf("ends", decimal),
  antennas: fieldsOf("antennas", decimal),
  radios: fieldsOf("radios", decimal),
  gates: fieldsOf("gates", decimal),
});
