/** A ledger of two million movements over twenty thousand made-up items: what the bench of the ledger looks at. */
import { existsSync, mkdirSync } from "node:fs";
import path from "node:path";
import { type Db, openDatabase } from "@/db/open";
import { savePlace } from "@/db/queries/places";
import { Random } from "@/lib/random";
import { addDays, calendarDate } from "@/lib/time";
import { TEST_NOW, temporaryFolder } from "../app/harness/server";
import { makeProgramme } from "./largeServer";

export interface LedgerWanted {
  items: number;
  movements: number;
}

const WAREHOUSES = 5;
const VEHICLES = 40;
/** Days before the programme's day on which the ledger begins: three years. */
const DAYS = 1095;
const IN_ONE_TRANSACTION = 50_000;

/** A data folder with a small programme, its plan in force, and the ledger. BENCH_LEDGER names one to keep and use again. */
export function largeLedger(wanted: LedgerWanted): { folder: string; isKept: boolean } {
  const kept = process.env.BENCH_LEDGER;
  const folder = kept ?? temporaryFolder();
  if (existsSync(path.join(folder, "bothends.sqlite"))) return { folder, isKept: true };
  mkdirSync(folder, { recursive: true });
  const db = openDatabase(path.join(folder, "bothends.sqlite"));
  makeProgramme(db, { sites: 200, hops: 100, crews: 4, weatherPlaces: 20, weeks: 26, years: 2 });
  const began = performance.now();
  loadLedgerOf(db, wanted);
  const seconds = (performance.now() - began) / 1000;
  console.log(
    `${wanted.movements} movements through the triggers in ${seconds.toFixed(0)} s, ${((1e6 * seconds) / wanted.movements).toFixed(0)} microseconds each`,
  );
  db.$client.pragma("wal_checkpoint(TRUNCATE)");
  db.$client.close();
  return { folder, isKept: kept !== undefined };
}

/**
 * Every item lies at two of the warehouses, some of it in lots that expire; receipts come, issues go to vehicles and are
 * used up, a little is returned, moved and counted. Day after day, as a store writes it.
 */
function loadLedgerOf(db: Db, { items, movements }: LedgerWanted): void {
  const random = new Random("ledger");
  const today = calendarDate(TEST_NOW.slice(0, 10));
  for (let w = 1; w <= WAREHOUSES; w++)
    savePlace(db, {
      code: `LW-${w}`,
      name: `Large warehouse ${w}`,
      kind: "warehouse",
      latDeg: null,
      lonDeg: null,
    });
  for (let v = 1; v <= VEHICLES; v++)
    savePlace(db, {
      code: `LV-${v}`,
      name: `Large vehicle ${v}`,
      kind: "vehicle",
      latDeg: null,
      lonDeg: null,
    });
  const sqlite = db.$client;
  // The rows of a real item, but for code and name.
  const columns = (sqlite.pragma("table_info(item)") as { name: string }[])
    .map((c) => c.name)
    .filter((name) => name !== "code" && name !== "name" && name !== "owner");
  const copy = sqlite.prepare(
    `INSERT INTO item (code, name, owner, ${columns.join(", ")}) SELECT ?, ?, 'contractor', ${columns.join(", ")} FROM item WHERE unit = 'piece' AND category <> 'ODU' ORDER BY code LIMIT 1`,
  );
  const lot = sqlite.prepare("INSERT INTO lot (code, item_code, expires_on) VALUES (?, ?, ?)");
  const stocks = Array.from({ length: items }, (_, i) => itemOf(i, random));
  sqlite.transaction(() => {
    for (const s of stocks) copy.run(s.code, `Made-up part ${s.code.slice(2)}`);
  })();
  const post = sqlite.prepare(
    `INSERT INTO movement (key, kind, item_code, lot_code, owner, from_place, to_place, quantity_c, effective_on, posted_at, reason, posted_by)
     VALUES (?, ?, ?, ?, 'contractor', ?, ?, ?, ?, ?, 'bench', 'bench')`,
  );
  const startMillis = Date.parse(TEST_NOW) - DAYS * 86_400_000;
  for (let from = 0; from < movements; from += IN_ONE_TRANSACTION) {
    sqlite.transaction(() => {
      for (let n = from; n < Math.min(movements, from + IN_ONE_TRANSACTION); n++) {
        const day = Math.floor((n / movements) * DAYS);
        // Everything is received once before chance decides what moves.
        const stock = stocks[n < 2 * items ? n % items : random.below(items)]!;
        const row = nextRow(stock, n < 2 * items ? Math.floor(n / items) : undefined, n, random);
        const on = addDays(today, day - DAYS);
        if (row.kind === "receipt" && stock.expires) {
          row.lot = `${stock.code}-${n}`;
          lot.run(row.lot, stock.code, addDays(on, 300));
        }
        moved(stock, row);
        post.run(
          `bench ${n}`,
          row.kind,
          stock.code,
          row.lot,
          row.from,
          row.to,
          row.quantityC,
          on,
          startMillis + day * 86_400_000,
        );
      }
    })();
  }
}

interface Stock {
  code: string;
  expires: boolean;
  homes: readonly [string, string];
  /** What lies where, by place and lot. */
  piles: Map<string, { place: string; lot: string | null; quantityC: number }>;
}

interface Row {
  kind: string;
  lot: string | null;
  from: string | null;
  to: string | null;
  quantityC: number;
}

function itemOf(i: number, random: Random): Stock {
  const first = random.below(WAREHOUSES);
  const second = (first + 1 + random.below(WAREHOUSES - 1)) % WAREHOUSES;
  return {
    code: `L-${String(i).padStart(5, "0")}`,
    expires: i % 20 === 0,
    homes: [`LW-${first + 1}`, `LW-${second + 1}`],
    piles: new Map(),
  };
}

/** @param home where it must be received, at the beginning */
function nextRow(stock: Stock, home: number | undefined, n: number, random: Random): Row {
  const piles = [...stock.piles.values()];
  const store = piles.filter((p) => p.place.startsWith("LW"));
  const carried = piles.filter((p) => p.place.startsWith("LV"));
  const dice = random.below(100);
  if (home !== undefined || store.length === 0 || dice < 10)
    return {
      kind: "receipt",
      lot: null,
      from: null,
      to: stock.homes[home ?? n % 2]!,
      quantityC: 100 * (20 + random.below(200)),
    };
  if (carried.length > 0 && dice < 50) {
    const pile = carried[random.below(carried.length)]!;
    const kind = dice < 45 ? "installed" : "return";
    const to = kind === "return" ? stock.homes[n % 2]! : null;
    return { kind, lot: pile.lot, from: pile.place, to, quantityC: pile.quantityC };
  }
  const pile = store[random.below(store.length)]!;
  const quantityC = Math.min(pile.quantityC, 100 * (1 + random.below(5)));
  if (dice < 95)
    return {
      kind: "issue",
      lot: pile.lot,
      from: pile.place,
      to: `LV-${1 + random.below(VEHICLES)}`,
      quantityC,
    };
  if (dice < 98) {
    const to = stock.homes.find((h) => h !== pile.place)!;
    return { kind: "transfer", lot: pile.lot, from: pile.place, to, quantityC };
  }
  return {
    kind: "count adjustment",
    lot: pile.lot,
    from: pile.place,
    to: null,
    quantityC: Math.min(100, quantityC),
  };
}

function moved(stock: Stock, row: Row): void {
  const change = (place: string, by: number) => {
    const key = `${place} ${row.lot ?? ""}`;
    const pile = stock.piles.get(key) ?? { place, lot: row.lot, quantityC: 0 };
    pile.quantityC += by;
    if (pile.quantityC === 0) stock.piles.delete(key);
    else stock.piles.set(key, pile);
  };
  if (row.from) change(row.from, -row.quantityC);
  if (row.to) change(row.to, row.quantityC);
}
