/**
 * One of several processes that write to the same ledger at once; prints what it did. Run by ledger.test.ts. Pieces come,
 * go, move and are counted, are put on hold, repaired and exchanged with serials and without, rows are taken back, runs are cut from drums with their saw allowance, drums move whole,
 * planned transfers are moved; keys, runs and transfers are shared with the other processes.
 */
import { openDatabase, writing } from "@/db/open";
import { ledgerRefusal, type NewMovement, postMovement, reverseMovement } from "@/db/queries/ledger";
import { moveTransfer } from "@/db/queries/transfers";
import { Random } from "@/lib/random";
import { addDays, type CalendarDate } from "@/lib/time";

const [file, name, operations, itemCode, cableCode] = process.argv.slice(2) as [
  string,
  string,
  string,
  string,
  string,
];
const db = openDatabase(file);
// Eight greedy writers on few processors: who waits may be passed over for longer than a person's writer ever is.
db.$client.pragma("busy_timeout = 240000");
const random = new Random(`writer ${name}`);
const DAY = "2026-03-02" as CalendarDate;
const LAST = addDays(DAY, 4);
const PLACES = ["WH", "WH2", "VAN"] as const;
const SAW_C = 20;
const counts = { posted: 0, refused: 0, repeated: 0, moved: 0 };

const anyPlace = () => PLACES[random.below(PLACES.length)]!;
const anyDay = () => addDays(DAY, random.below(5));
const row = { owner: "contractor" as const, postedAt: 0, reason: "test", postedBy: `Writer ${name}` };

/** Runs `work` whole or not at all; a refusal by the ledger is counted, anything else ends the process. */
function attempt(work: () => number): void {
  try {
    const made = writing(db, work);
    counts.posted += made;
    if (made === 0) counts.repeated++;
  } catch (error) {
    if (ledgerRefusal(error) === undefined) throw error;
    counts.refused++;
  }
}

const post = (m: NewMovement): number => (postMovement(db, m).isNew ? 1 : 0);

function pieces(key: string, kind: "receipt" | "issue" | "transfer" | "count adjustment" | "scrap"): void {
  const isIn = kind === "receipt" || (kind === "count adjustment" && random.next() < 0.5);
  const fromPlace = isIn ? undefined : anyPlace();
  const toPlace = isIn ? anyPlace() : kind === "transfer" ? PLACES.find((p) => p !== fromPlace) : undefined;
  const quantityC = 100 * (1 + random.below(6));
  attempt(() => post({ ...row, key, kind, itemCode, fromPlace, toPlace, quantityC, effectiveOn: anyDay() }));
}

/** Where a drum stands and what is left on it. */
function standing(serial: string): { place: string; left: number } | undefined {
  return db.$client
    .prepare(
      "SELECT place_code AS place, quantity_c AS left FROM balance WHERE drum_serial = ? AND quantity_c > 0",
    )
    .get(serial) as { place: string; left: number } | undefined;
}

/** A run and its saw allowance, both or neither; each run is cut by one process only. */
function cut(): void {
  const runId = `run ${random.below(300)}`;
  const serial = `D${1 + random.below(30)}`;
  attempt(() => {
    const drum = standing(serial);
    if (!drum) return 0;
    const whole = {
      ...row,
      itemCode: cableCode,
      drumSerial: serial,
      fromPlace: drum.place,
      effectiveOn: LAST,
      runId,
    };
    const first = post({
      ...whole,
      key: `cut ${runId}`,
      kind: "cut",
      quantityC: 400 + 10 * random.below(80),
    });
    return first === 0 ? 0 : first + post({ ...whole, key: `saw ${runId}`, kind: "scrap", quantityC: SAW_C });
  });
}

function moveDrum(key: string): void {
  const serial = `D${1 + random.below(30)}`;
  attempt(() => {
    const drum = standing(serial);
    const toPlace = anyPlace();
    if (!drum || drum.place === toPlace) return 0;
    // Now and then a part of it: the ledger refuses that.
    const quantityC = random.next() < 0.2 ? Math.max(1, drum.left - 50) : drum.left;
    return post({
      ...row,
      key,
      kind: "transfer",
      itemCode: cableCode,
      drumSerial: serial,
      fromPlace: drum.place,
      toPlace,
      quantityC,
      effectiveOn: LAST,
    });
  });
}

/** Takes any earlier row of pieces back; a second reversal of it, or one of what is used, is refused. */
function takeBack(key: string): void {
  attempt(() => {
    const last = db.$client.prepare("SELECT MAX(id) FROM movement").pluck().get() as number;
    const found = db.$client
      .prepare(
        "SELECT id, effective_on AS day FROM movement WHERE id >= ? AND drum_serial IS NULL AND kind <> 'reversal' LIMIT 1",
      )
      .get(1 + random.below(last)) as { id: number; day: CalendarDate } | undefined;
    if (!found) return 0;
    const by = { key, effectiveOn: LAST, postedAt: 0, reason: "wrong", postedBy: row.postedBy };
    return reverseMovement(db, found.id, by)?.isNew ? 1 : 0;
  });
}

/** A faulty piece with one of forty serials, or without: any step, from wherever the ledger has it or from somewhere else. */
function faulty(key: string): void {
  const serial = random.next() < 0.8 ? `S${1 + random.below(40)}` : undefined;
  attempt(() => {
    const at = serial
      ? (db.$client
          .prepare(
            "SELECT to_place FROM movement WHERE serial = ? ORDER BY effective_on DESC, id DESC LIMIT 1",
          )
          .pluck()
          .get(serial) as string | null | undefined)
      : ["WH", "HOLD", "REP"][random.below(3)];
    const [kind, fromPlace, toPlace] = stepFrom(random.next() < 0.1 ? anyPlace() : (at ?? undefined));
    const quantityC = serial ? 100 : 100 * (1 + random.below(2));
    return post({ ...row, key, kind, itemCode, serial, fromPlace, toPlace, quantityC, effectiveOn: LAST });
  });
}

function stepFrom(at: string | undefined): [kind: NewMovement["kind"], from?: string, to?: string] {
  const draw = random.next();
  if (at === "HOLD") {
    if (draw < 0.7) return ["to repair", "HOLD", "REP"];
    return draw < 0.9 ? ["release", "HOLD", "WH"] : ["scrap", "HOLD"];
  }
  if (at === "REP") {
    if (draw < 0.5) return ["from repair", "REP", draw < 0.25 ? "WH" : "WH2"];
    return draw < 0.9 ? ["exchange", "REP"] : ["scrap", "REP"];
  }
  if (at === undefined && draw < 0.3) return ["exchange", undefined, "WH"];
  return ["quality hold", at ?? (draw < 0.7 ? anyPlace() : undefined), "HOLD"];
}

function carryOver(): void {
  const note = { id: 1 + random.below(100), quantityC: 100, on: LAST, today: LAST };
  const moved = moveTransfer(db, note, { name: row.postedBy, at: 0 });
  if (moved.ok) {
    counts.posted += moved.value.rows;
    counts.moved++;
  } else counts.refused++;
}

for (let n = 0; n < Number(operations); n++) {
  const key = `${name} ${n}`;
  const draw = random.next();
  if (draw < 0.2) pieces(key, "receipt");
  else if (draw < 0.3) pieces(key, "issue");
  else if (draw < 0.4) pieces(key, "transfer");
  else if (draw < 0.46) pieces(key, "count adjustment");
  else if (draw < 0.49) pieces(key, "scrap");
  else if (draw < 0.62) faulty(key);
  else if (draw < 0.72) cut();
  else if (draw < 0.78) moveDrum(key);
  else if (draw < 0.86) takeBack(key);
  else if (draw < 0.93) carryOver();
  else pieces(`shared ${random.below(40)}`, "receipt");
}
console.log(JSON.stringify(counts));
