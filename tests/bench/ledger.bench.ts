/**
 * A store of 20,000 items with 2,000,000 movements: balances held against the ledger, a movement posted, and the pages of
 * the stock. Needs a build (`npm run build`). The ledger is written row by row through the product's own triggers, which
 * takes some minutes; a folder named by BENCH_LEDGER is kept and used again.
 *
 *     npx tsx tests/bench/ledger.bench.ts -- --items 20000 --movements 2000000
 */
import { rmSync } from "node:fs";
import { loadavg } from "node:os";
import path from "node:path";
import { parseArgs } from "node:util";
import { migrateDatabase } from "@/db/migrate";
import { type Db, openDatabase, writing } from "@/db/open";
import {
  countLedger,
  ledgerDifferences,
  loadLedger,
  type NewMovement,
  postMovement,
} from "@/db/queries/ledger";
import { loadOnHandPage, loadOnHandRows, type OnHandRow } from "@/db/queries/onHand";
import { Random } from "@/lib/random";
import { calendarDate } from "@/lib/time";
import { TEST_NOW } from "../app/harness/server";
import { largeLedger } from "./largeLedger";
import { against, ask, quantile, serveLarge, signInByForm } from "./largeServer";

const { values } = parseArgs({
  args: process.argv.slice(2).filter((a) => a !== "--"),
  options: {
    items: { type: "string", default: "20000" },
    movements: { type: "string", default: "2000000" },
  },
});
/** Bar of the product for a page of the stock, p95. */
const PAGE_BAR_MILLIS = 200;
const ASKED = 60;

const wanted = { items: Number(values.items), movements: Number(values.movements) };
const today = calendarDate(TEST_NOW.slice(0, 10));
const { folder, isKept } = largeLedger(wanted);
const random = new Random("ledger pages");
const anyItem = () => `L-${String(random.below(wanted.items)).padStart(5, "0")}`;
console.log(`load ${loadavg()[0]!.toFixed(1)}`);
const file = openDatabase(path.join(folder, "bothends.sqlite"));
migrateDatabase(file); // a kept file may be older than the code
measureQueries(file);
file.$client.close();
const server = await serveLarge(folder);
try {
  await measurePages();
} finally {
  await server.stop();
  if (!isKept) rmSync(folder, { recursive: true, force: true });
}

function measureQueries(db: Db): void {
  const balanceCount = db.$client.prepare("SELECT COUNT(*) FROM balance").pluck().get() as number;
  const began = performance.now();
  const differences = ledgerDifferences(db).length;
  const seconds = (performance.now() - began) / 1000;
  console.log(
    `${countLedger(db, {})} rows held against ${balanceCount} balances in ${seconds.toFixed(1)} s: ${differences} differences`,
  );
  if (differences > 0) process.exitCode = 1;
  show("an item's balances", () => loadOnHandRows(db, today, { itemCode: anyItem() }));
  show("an item's history, newest 20", () => loadLedger(db, { itemCode: anyItem(), limit: 20 }));
  show("stock, 200 rows from anywhere", () =>
    loadOnHandPage(db, today, {}, 200, JSON.stringify([anyItem(), "", "", "", ""])),
  );
  show("stock, by a part of the name", () =>
    loadOnHandPage(db, today, { text: String(random.below(wanted.items)) }, 200),
  );
  show("stock, what has expired", () => loadOnHandPage(db, today, { onlyExpired: true }, 200));
  // Posted and rolled back one by one, so that a kept file stays what it is.
  const undone = new Error("undone");
  const balances = loadOnHandPage(
    db,
    today,
    {},
    2000,
    JSON.stringify([anyItem(), "", "", "", ""]),
  ).rows.filter((r) => r.placeKind === "warehouse");
  let n = 0;
  show("posting a movement, keeping the balance", () => {
    const row = issueOf(balances[random.below(balances.length)]!, `bench posts ${n++}`);
    try {
      writing(db, () => {
        postMovement(db, row);
        throw undone;
      });
    } catch (thrown) {
      if (thrown !== undone) throw thrown;
    }
  });
}

function issueOf(from: OnHandRow, key: string): NewMovement {
  return {
    key,
    kind: "issue",
    itemCode: from.itemCode,
    lotCode: from.lotCode || undefined,
    owner: from.owner,
    fromPlace: from.placeCode,
    toPlace: "LV-1",
    quantityC: 1,
    effectiveOn: today,
    postedAt: Date.parse(TEST_NOW),
    reason: "bench",
    postedBy: "bench",
  };
}

async function measurePages(): Promise<void> {
  const cookie = await signInByForm(server);
  const pages: [string, () => string][] = [
    ["on hand, from the beginning", () => "/stock?tab=on-hand"],
    ["on hand, by code", () => `/stock?tab=on-hand&find=${anyItem()}`],
    [
      "on hand, from anywhere",
      () => `/stock?tab=on-hand&after=${encodeURIComponent(JSON.stringify([anyItem(), "", "", "", ""]))}`,
    ],
    ["on hand, at a place", () => `/stock?tab=on-hand&at=LW-${1 + random.below(5)}`],
    ["on hand, expired", () => "/stock?tab=on-hand&expired=1"],
    ["an item with its history", () => `/stock/items/${anyItem()}`],
    ["on hand, right after a movement", () => afterOne("/stock?tab=on-hand")],
    ["an item, right after a movement", () => afterOne(`/stock/items/${anyItem()}`)],
    ["ledger, right after a movement", () => afterOne("/stock?tab=ledger")],
    ["ledger, newest", () => "/stock?tab=ledger"],
    ["ledger, from anywhere", () => `/stock?tab=ledger&before=${1 + random.below(wanted.movements)}`],
    ["ledger of an item", () => `/stock?tab=ledger&item=${anyItem()}`],
  ];
  const own = openDatabase(path.join(server.dataFolder, "bothends.sqlite"));
  const balances = loadOnHandPage(own, today, { placeCode: "LW-1" }, 2000).rows;
  let posted = 0;
  /** What is summed up is summed up anew after a movement: somebody else is at work meanwhile. */
  const afterOne = (address: string) => {
    postMovement(own, issueOf(balances[posted % balances.length]!, `bench moves ${posted++}`));
    return address;
  };
  console.log(`pages, ${ASKED} times each, one after the other: p50, p95, slowest`);
  for (const [words, address] of pages) {
    await ask(server, address(), cookie); // the first visit compiles and warms
    const times: number[] = [];
    for (let i = 0; i < ASKED; i++) times.push(await ask(server, address(), cookie));
    const p95 = quantile(times, 0.95);
    if (p95 > PAGE_BAR_MILLIS) process.exitCode = 1;
    console.log(
      `  ${words}: ${quantile(times, 0.5).toFixed(0)}, ${against(p95, PAGE_BAR_MILLIS, "ms")}, ${quantile(times, 1).toFixed(0)}`,
    );
  }
}

function show(words: string, work: () => unknown): void {
  const times = Array.from({ length: ASKED }, () => {
    const began = performance.now();
    work();
    return performance.now() - began;
  });
  console.log(
    `  ${words}: p50 ${quantile(times, 0.5).toFixed(2)} ms, p95 ${quantile(times, 0.95).toFixed(2)} ms`,
  );
}
