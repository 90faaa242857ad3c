/** The demonstration: everything that a fresh installation shows, made for one day. */
import { type Db, writing } from "@/db/open";
import { writeSetting } from "@/db/queries/settings";
import { type CalendarDate, instantAt } from "@/lib/time";
import { loadAccounts } from "./accounts";

/** Where the invented programme lies: the zone in which "today" is meant. */
export const DEMO_ZONE = "UTC";

/** Fills an empty, migrated database for `today`. Deterministic: the same date gives the same rows. */
export function loadDemo(db: Db, today: CalendarDate): void {
  writing(db, () => {
    loadAccounts(db, instantAt(today, 0, DEMO_ZONE));
    writeSetting(db, "demoLoadedOn", today);
    writeSetting(db, "demoZone", DEMO_ZONE);
    writeSetting(db, "demoTouched", false);
  });
}
