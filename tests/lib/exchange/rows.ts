/** Random valid rows of every kind, made from the kind's own columns, and rows that stand for what they refer to. */
import fc from "fast-check";
import { partKeys } from "@/lib/calibration";
import { keyOf } from "@/lib/exchange/keys";
import { kindOf } from "@/lib/exchange/kinds";
import type { KindName, RowOf } from "@/lib/exchange/rows";
import type { Column, ExistingRows } from "@/lib/exchange/types";
import { DEFAULT_NORMS, SKILLS } from "@/lib/hours";
import { SEGMENT_KINDS } from "@/lib/site";
import { addDays, calendarDate } from "@/lib/time";

type Raw = Record<string, unknown>;

const DAY0 = calendarDate("2020-01-01");
const date = fc.integer({ min: 0, max: 20_000 }).map((d) => addDays(DAY0, d));

/** Text as it is stored: trimmed, NFC, no control characters but tab and LF; often hostile to CSV. */
const anyText = fc
  .oneof(
    fc.string({ unit: "grapheme", maxLength: 20 }),
    fc.string({
      unit: fc.constantFrom("=", "+", "-", "@", "'", '"', ",", ";", "\n", "\t", "a", "é", "Ω", "0", " "),
      maxLength: 12,
    }),
    fc.constantFrom(
      "=1+1",
      "-3.5",
      "+41",
      "@sum",
      "'=x",
      "''=x",
      "007",
      "1.234",
      "1,5",
      "2027-01-01",
      "true",
      "sep=,",
      "EXAMPL",
      "ÄÖÜ ß",
      "日本語",
      "😀",
      "_x000D_",
      "a\nb",
      '"',
    ),
  )
  .map((t) =>
    t
      .normalize("NFC")
      .replace(/[^\P{Cc}\t\n]/gu, "")
      .trim()
      .slice(0, 40),
  )
  .filter((t) => t !== "" && !t.startsWith("EXAMPLE") && t === t.normalize("NFC").trim());

const ZONES = ["Europe/Zurich", "UTC", "America/Anchorage", "Asia/Kathmandu"];

function anyValueOf(column: Column): fc.Arbitrary<unknown> {
  const { min, max, above } = column;
  const lo = min ?? above ?? -1e6;
  const hi = max ?? 1e6;
  switch (column.type) {
    case "text":
      return anyText.map((t) => t.slice(0, column.maxLength ?? 200).trim() || "x");
    case "number":
      return fc
        .oneof(
          fc.double({ min: lo, max: hi, noNaN: true, noDefaultInfinity: true }),
          fc.integer({ min: Math.ceil(lo), max: Math.floor(hi) }),
          fc
            .double({ min: lo, max: hi, noNaN: true, noDefaultInfinity: true })
            .map((n) => Math.round(n * 1000) / 1000),
        )
        .filter((n) => n >= lo && n <= hi && (above === undefined || n > above) && !Object.is(n, -0));
    case "integer":
    case "money":
      return fc.integer({ min: Math.ceil(above === undefined ? lo : above + 1), max: Math.min(hi, 2 ** 31) });
    case "date":
      return date;
    case "time":
      return fc.integer({ min: 0, max: 1440 });
    case "instant":
      return fc.integer({ min: 0, max: 500_000 }).map((h) => h * 3_600_000);
    case "boolean":
      return fc.boolean();
    case "enum":
      return fc.constantFrom(...(column.choices ?? []));
    case "list":
      return listOf(column);
  }
}

function listOf(column: Column): fc.Arbitrary<unknown> {
  const reason = anyText
    .map((t) =>
      t
        .replace(/[;]/g, "")
        .trim()
        .replace(/^(to\b|\.\.|–)/i, "x"),
    )
    .filter((t) => !/^\d{4}-/.test(t));
  switch (column.listForm!) {
    case "weekdays":
      return fc.subarray([1, 2, 3, 4, 5, 6, 7], { minLength: 1 });
    case "polarisations":
      return fc.subarray(["V", "H"], { minLength: 1 });
    case "skills":
      return fc
        .subarray([...SKILLS])
        .chain((list) =>
          fc.tuple(
            ...list.map((skill) =>
              fc
                .option(date, { nil: undefined })
                .map((validUntil) => (validUntil ? { skill, validUntil } : { skill })),
            ),
          ),
        );
    case "leave":
      return fc
        .uniqueArray(fc.tuple(date, fc.integer({ min: 0, max: 30 }), fc.oneof(fc.constant(""), reason)), {
          maxLength: 3,
          selector: ([d]) => d,
        })
        .map((list) =>
          list
            .map(([fromOn, days, why]) => ({ fromOn, toOn: addDays(fromOn, days), reason: why }))
            .sort((a, b) => (a.fromOn < b.fromOn ? -1 : 1)),
        );
    case "route":
      return fc.array(
        fc.record({
          kind: fc.constantFrom(...SEGMENT_KINDS),
          lengthM: fc.integer({ min: 1, max: 50_000 }).map((cm) => cm / 100),
          bendAtEnd: fc.boolean(),
        }),
        { minLength: 1, maxLength: 5 },
      );
    case "task minutes":
      return fc
        .subarray(partKeys(DEFAULT_NORMS), { maxLength: 4 })
        .chain((list) =>
          fc.tuple(
            ...list.map((part) =>
              fc.integer({ min: 1, max: 1440 }).map((workedMin) => ({ part, workedMin })),
            ),
          ),
        );
  }
}

/** Makes the row obey the rules over a whole row. */
const TIDY: { [K in KindName]?: (row: Raw) => void } = {
  sites(row) {
    if (row.latDeg === undefined || row.lonDeg === undefined) {
      delete row.latDeg;
      delete row.lonDeg;
    }
    row.zone = ZONES[String(row.code).length % ZONES.length];
    const from = row.accessFromMin as number;
    row.accessFromMin = Math.min(from, 1439);
    row.accessToMin = Math.max(row.accessToMin as number, Math.min(from, 1439) + 1);
  },
  places(row) {
    if (row.latDeg === undefined || row.lonDeg === undefined) {
      delete row.latDeg;
      delete row.lonDeg;
    }
  },
  hops(row) {
    if (row.nearSiteCode !== undefined && row.nearSiteCode === row.farSiteCode)
      row.farSiteCode = `${row.farSiteCode}2`.slice(-60);
  },
  antennas(row) {
    if (row.siteCode !== undefined) row.siteCode = `=S ${row.side}`; // one site per end
  },
  gates(row) {
    if (row.state === "dated") row.dueOn ??= "2027-01-01";
  },
  items(row) {
    row.currency = ["EUR", "JPY", "KWD"][String(row.code).length % 3];
  },
  orders(row) {
    row.quantity = Math.max(0.01, Math.round((row.quantity as number) * 100) / 100);
    if (row.priceMinor === undefined) delete row.currency;
    else row.currency = ["EUR", "JPY", "KWD"][String(row.itemCode).length % 3];
    row.placeCode = row.orderCode; // lines of an order agree on place and supplier
    if (String(row.orderCode).length % 2 === 0) row.supplier = row.orderCode;
    else delete row.supplier;
  },
  stock(row) {
    const cents = (n: unknown) => Math.round((n as number) * 100) / 100;
    row.quantity = cents(row.quantity);
    delete row.lotCode; // lots must agree with each other; a test of its own covers them
    delete row.expiresOn;
    if (row.drumSerial === undefined) {
      delete row.receivedM;
      delete row.remainingM;
      return;
    }
    row.remainingM = Math.min(cents(row.remainingM ?? 10), 100_000);
    row.quantity = row.remainingM;
    if (row.receivedM !== undefined)
      row.receivedM = Math.max(cents(row.receivedM), row.remainingM as number, 0.01);
  },
  crews(row) {
    row.zone = ZONES[String(row.code).length % ZONES.length];
    const from = Math.min(row.shiftFromMin as number, 1439);
    row.shiftFromMin = from;
    row.shiftToMin = Math.max(row.shiftToMin as number, from + 1);
  },
};

/** One random row. Fields that may be blank are blank in some. */
export function rowOf<K extends KindName>(kind: K): fc.Arbitrary<RowOf<K>> {
  const shape: Record<string, fc.Arbitrary<unknown>> = {};
  for (const column of kindOf(kind).columns) {
    if (column.isVirtual) continue;
    const isSet = column.required || column.default !== undefined;
    shape[column.key] = isSet ? anyValueOf(column) : fc.option(anyValueOf(column), { nil: undefined });
  }
  return fc.record(shape).map((made) => {
    const row: Raw = {};
    for (const [key, value] of Object.entries(made)) if (value !== undefined) row[key] = value;
    TIDY[kind]?.(row);
    if ("siteCode" in row && kind !== "ends" && kind !== "antennas") delete row.siteCode;
    return row as unknown as RowOf<K>;
  });
}

/** Random rows with keys that differ also when case is ignored, and drum serials that differ. */
export function rowsOf<K extends KindName>(kind: K, maxLength = 8): fc.Arbitrary<RowOf<K>[]> {
  return fc.array(rowOf(kind), { minLength: 1, maxLength }).map((rows) => {
    const seen = new Set<string>();
    return rows.filter((row) => {
      const marks = [`key ${keyOf(kind, row).toLowerCase()}`];
      const { drumSerial } = row as unknown as Raw;
      if (drumSerial !== undefined) marks.push(`drum ${String(drumSerial)}`);
      if (marks.some((m) => seen.has(m))) return false;
      for (const m of marks) seen.add(m);
      return true;
    });
  });
}

/** Everything that the rows refer to, as rows that stand. */
export function referencesOf(kind: KindName, rows: readonly unknown[]): ExistingRows {
  const found: Partial<Record<KindName, Map<string, unknown>>> = {};
  for (const reference of kindOf(kind).references) {
    const target = reference.kinds[0]!;
    for (const row of rows as Raw[]) {
      const last = row[reference.columns.at(-1)!];
      if (last === undefined) continue;
      const parts = reference.columns.map((c) => String(row[c]));
      const key = parts.length === 1 ? parts[0]! : parts.map((p) => p.replace(/[\\/]/g, "\\$&")).join("/");
      const site = row.siteCode ?? `=S ${row.side}`;
      found[target] ??= new Map();
      if (target === "hops") {
        const hop = (found[target].get(key) as Raw | undefined) ?? {
          nearSiteCode: "=S near",
          farSiteCode: "=S far",
        };
        hop[row.side === "near" ? "nearSiteCode" : "farSiteCode"] = site;
        found[target].set(key, hop);
      } else found[target].set(key, { code: key });
    }
  }
  return found as ExistingRows;
}
