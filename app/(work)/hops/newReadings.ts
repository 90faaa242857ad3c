/** Acceptance readings as the server takes them. */
import { z } from "zod";
import { READING_BOUNDS } from "@/lib/acceptance";

const figure = ({
  least,
  most,
  noNumber,
  below,
  above,
}: (typeof READING_BOUNDS)["value" | "targetLevelDbm"]) =>
  z.number({ error: noNumber }).min(least, below).max(most, above).optional();

export const newReadings = z
  .array(
    z.object({
      askedId: z.string().min(1).max(200),
      value: figure(READING_BOUNDS.value),
      passed: z.boolean().optional(),
      targetLevelDbm: figure(READING_BOUNDS.targetLevelDbm),
    }),
  )
  .max(60);
