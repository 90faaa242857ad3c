/** What past years say of each date, kept from plan to plan. */
import { createHash } from "node:crypto";
import { inArray } from "drizzle-orm";
import { type KeptPast, type ProgrammeInput, pastBasis } from "@/lib/programme";
import type { StretchByDay } from "@/lib/weather";
import type { Db } from "../open";
import { pastWeather } from "../schema";

type Basis = Pick<ProgrammeInput, "weatherPolicy" | "crews" | "norms">;

const DATES = 366;
const ROWS_A_STATEMENT = 500;

/** Kept years under the limits and shifts as they are now, read one by one as they are asked for. */
export function loadKeptPast(db: Db, { weatherPolicy, crews, norms }: Basis): KeptPast {
  const basis = pastBasis(weatherPolicy, crews, norms.derating);
  const rows = db.select().from(pastWeather).all();
  const kept = new Map(rows.map((r) => [r.key, r.body]));
  return {
    get: (key) => {
      const body = kept.get(digest(basis, key));
      return body && decode(body);
    },
  };
}

/** Keeps what a plan used and lets go of everything else: an older history, other limits. */
export function saveKeptPast(
  db: Db,
  { weatherPolicy, crews, norms }: Basis,
  past: ReadonlyMap<string, StretchByDay>,
): void {
  const basis = pastBasis(weatherPolicy, crews, norms.derating);
  const used = new Map([...past].map(([key, year]) => [digest(basis, key), year]));
  const stored = new Set(
    db
      .select({ key: pastWeather.key })
      .from(pastWeather)
      .all()
      .map((r) => r.key),
  );
  const idle = [...stored].filter((key) => !used.has(key));
  for (let i = 0; i < idle.length; i += ROWS_A_STATEMENT) {
    db.delete(pastWeather)
      .where(inArray(pastWeather.key, idle.slice(i, i + ROWS_A_STATEMENT)))
      .run();
  }
  const fresh = [...used]
    .filter(([key]) => !stored.has(key))
    .map(([key, year]) => ({ key, body: encode(year) }));
  for (let i = 0; i < fresh.length; i += ROWS_A_STATEMENT) {
    db.insert(pastWeather)
      .values(fresh.slice(i, i + ROWS_A_STATEMENT))
      .run();
  }
}

const digest = (basis: string, key: string) =>
  createHash("sha1").update(basis).update(key).digest("base64url");

function encode({ stretch, riskMinPerH, runs }: StretchByDay): Buffer {
  return Buffer.concat([bytesOf(stretch), bytesOf(riskMinPerH), bytesOf(runs)]);
}

const bytesOf = (a: Float32Array | Uint16Array) => Buffer.from(a.buffer, a.byteOffset, a.byteLength);

function decode(body: Buffer): StretchByDay {
  // A copy: the row's bytes need not lie where 32-bit numbers may.
  const bytes = Uint8Array.from(body).buffer;
  return {
    stretch: new Float32Array(bytes, 0, DATES),
    riskMinPerH: new Float32Array(bytes, 4 * DATES, DATES),
    runs: new Uint16Array(bytes, 8 * DATES, DATES),
  };
}
