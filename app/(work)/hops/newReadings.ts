/** Acceptance readings as the server takes them. */
import { z } from "zod";

export const newReadings = z
  .array(
    z.object({
      askedId: z.string().min(1).max(200),
      value: z
        .number({ error: "Give the reading as a number." })
        .min(-200, "Below -200: check the reading and its unit.")
        .max(1_000_000, "Too large for any reading: check the unit.")
        .optional(),
      passed: z.boolean().optional(),
      targetLevelDbm: z
        .number({ error: "Give the target level as a number." })
        .min(-120, "A target below -120 dBm: check the sign and the unit.")
        .max(10, "A target above 10 dBm: check the sign and the unit.")
        .optional(),
    }),
  )
  .max(60);
