/** One of several processes that write to the same ledger at once; prints what it did. Run by ledger.test.ts. */
import { openDatabase, writing } from "@/db/open";
import { ledgerRefusal, postMovement } from "@/db/queries/stock";
import { Random } from "@/lib/random";
import { addDays, type CalendarDate } from "@/lib/time";

const [file, name, itemCode] = process.argv.slice(2) as [string, string, string];
const db = openDatabase(file);
const random = new Random(`writer ${name}`);
let posted = 0;
let refused = 0;

function send(key: string, isIn: boolean, quantityC: number): void {
  try {
    const { isNew } = writing(db, () =>
      postMovement(db, {
        key,
        kind: isIn ? "receipt" : "issue",
        itemCode,
        owner: "contractor",
        fromPlace: isIn ? undefined : "WH",
        toPlace: isIn ? "WH" : undefined,
        quantityC,
        effectiveOn: addDays("2026-03-02" as CalendarDate, random.below(5)),
        postedAt: 0,
        reason: "test",
        postedBy: `Writer ${name}`,
      }),
    );
    if (isNew) posted++;
  } catch (error) {
    if (ledgerRefusal(error) === undefined) throw error;
    refused++;
  }
}

for (let n = 0; n < 60; n++) {
  send(`${name} ${n}`, random.next() < 0.5, 100 * (1 + random.below(5)));
  if (n % 3 === 0) send(`shared ${n / 3}`, true, 100);
}
send(`${name} more than there can be`, false, 10_000_000);
console.log(JSON.stringify({ posted, refused }));
