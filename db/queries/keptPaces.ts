/** What crews' people take for the yardstick, kept from plan to plan and from start to start. */
import { createHash } from "node:crypto";
import { eq, sql } from "drizzle-orm";
import { type KeptPaces, type ProgrammeInput, paceBasis } from "@/lib/programme";
import type { Db } from "../open";
import { paceMinutes } from "../schema";

/** Rows of crews that changed since, and of other norms, go when there are more; a certificate that ends makes a new one. */
const MOST_KEPT = 1000;

/** Minutes under these norms and factors; what is added is kept at once. */
export function keptPaces(
  db: Db,
  { norms, calibration }: Pick<ProgrammeInput, "norms" | "calibration">,
): KeptPaces {
  const basis = createHash("sha1").update(paceBasis(norms, calibration)).digest("base64url");
  const digest = (people: string) => createHash("sha1").update(basis).update(people).digest("base64url");
  return {
    get: (people) =>
      db
        .select()
        .from(paceMinutes)
        .where(eq(paceMinutes.key, digest(people)))
        .get()?.minutes,
    set: (people, minutes) => {
      db.insert(paceMinutes)
        .values({ key: digest(people), minutes })
        .onConflictDoNothing()
        .run();
      db.run(
        sql`DELETE FROM ${paceMinutes} WHERE rowid <= (SELECT max(rowid) FROM ${paceMinutes}) - ${MOST_KEPT}`,
      );
    },
  };
}
