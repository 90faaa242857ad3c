/** The open interface as a purchasing program meets it: keys and scopes, answers as described, deliveries booked once. */

import { readdirSync } from "node:fs";
import path from "node:path";
import { Validator } from "@seriousme/openapi-schema-validator";
import Ajv from "ajv/dist/2020";
import addFormats from "ajv-formats";
import { beforeEach, describe, expect, test, vi } from "vitest";
import { type Call, carryOut } from "@/app/_server/carryOut";
import { openApiDocument } from "@/app/_server/openInterface/document";
import { makeKeyAction, revokeKeyAction } from "@/app/_server/openInterface/keys";
import { OPERATIONS, type Operation } from "@/app/_server/openInterface/operations";
import type { Db } from "@/db/open";
import { interfaceKeys } from "@/db/queries/interfaceKeys";
import { loadLedger } from "@/db/queries/ledger";
import { loadLog } from "@/db/queries/log";
import { saveOrder } from "@/db/queries/orderLines";
import { sendOrder } from "@/db/queries/orderSteps";
import { loadOrder } from "@/db/queries/orderViews";
import { type StoredNetting, savePlanStock } from "@/db/queries/plans";
import { proposeOrders } from "@/db/queries/proposeOrders";
import { failedAttempt, idempotencyKey, interfaceKey } from "@/db/schema";
import { SCOPES, type Scope } from "@/db/schema/auth";
import { addDays, type InstantMillis } from "@/lib/time";
import { BY, CABLE, PIECE, TAPE, type TestStock, TODAY, testStock } from "../db/make";
import { visitorAs } from "../helpers/visitor";

const here = vi.hoisted(() => ({ db: undefined as unknown }));
vi.mock("@/db/open", async (original) => ({ ...(await original<object>()), database: () => here.db as Db }));

const FOLDER = path.resolve(import.meta.dirname, "../../app/api/open/v1");
const NOW = BY.at as InstantMillis;

type Handler = (request: Request, next: { params: Promise<Record<string, string>> }) => Promise<Response>;
const handlers = new Map<string, Handler>();
for (const operation of OPERATIONS) {
  const file = `${operation.path.replaceAll("{", "[").replaceAll("}", "]")}/route.ts`;
  const routes = (await import(path.join(FOLDER, file))) as Record<string, Handler>;
  handlers.set(operation.id, routes[operation.method.toUpperCase()]!);
}
const operation = (id: string): Operation => OPERATIONS.find((o) => o.id === id)!;

let stock: TestStock;
let db: Db;

const netting = (itemCode: string, placeCode: string): StoredNetting => ({
  itemCode,
  placeCode,
  runsOutOn: addDays(TODAY, 5),
  onHandC: 1_000,
  totalNeedC: 1_400,
  body: {
    firstOn: TODAY,
    gross: [6, 0, 8.25],
    scheduled: [0, 0, 0],
    projectedWithoutOrders: [4, 4, -4.25],
    projected: [4, 4, 5.75],
    runsOutDay: 2,
    stops: [],
    stopsLeft: [],
    orders: [{ quantity: 10, receiptDay: 5, releaseDay: 0, pastDueDays: 3 }],
  },
});

beforeEach(() => {
  stock = testStock();
  db = stock.db;
  here.db = db;
  savePlanStock(db, stock.plan.id, [], {
    netting: [netting(PIECE.code, "WH-EAST"), netting(CABLE.code, "")],
    transfers: [],
  });
  vi.stubEnv("BOTHENDS_NOW", new Date(BY.at).toISOString());
  vi.useFakeTimers({ now: NOW, toFake: ["Date"] });
});

const call = (over: Partial<Call> = {}): Call => ({
  db,
  visitor: visitorAs("administrator"),
  key: undefined,
  now: NOW,
  machineNow: NOW,
  ...over,
});

async function keyFor(
  scopes: readonly Scope[],
  days: number | null = null,
): Promise<{ id: string; key: string }> {
  const { result } = await carryOut(makeKeyAction, { name: "Purchasing", scopes: [...scopes], days }, call());
  if (!result.ok) throw new Error(result.problems[0]?.message);
  return result.value;
}

interface Asked {
  key?: string;
  params?: Record<string, string>;
  query?: Record<string, string>;
  body?: unknown;
  once?: string;
  from?: string;
}

async function ask(id: string, { key, params = {}, query, body, once, from }: Asked = {}) {
  const search = new URLSearchParams(query);
  const headers = new Headers({ "x-forwarded-for": from ?? "10.0.0.7" });
  if (key) headers.set("authorization", `Bearer ${key}`);
  if (once) headers.set("idempotency-key", once);
  const request = new Request(`http://plan.example/x?${search}`, {
    method: operation(id).method.toUpperCase(),
    headers,
    body: body === undefined ? undefined : typeof body === "string" ? body : JSON.stringify(body),
  });
  const answer = await handlers.get(id)!(request, { params: Promise.resolve({ code: "PO-1", ...params }) });
  return { status: answer.status, headers: answer.headers, body: await answer.json() };
}

/** An order on the way: pieces, what ages, cable. */
function orderOnTheWay(): void {
  saveOrder(db, {
    code: "PO-1",
    kind: "purchase",
    supplier: "Made-up Supplies",
    state: "approved",
    placeCode: "WH-EAST",
    createdAt: BY.at,
    createdBy: BY.name,
    lines: [
      { itemCode: PIECE.code, quantityC: 2_000, dueOn: addDays(TODAY, 3) },
      { itemCode: TAPE.code, quantityC: 400, dueOn: addDays(TODAY, 3) },
      { itemCode: CABLE.code, quantityC: 50_000, dueOn: addDays(TODAY, 9) },
    ],
  });
  const sent = sendOrder(db, "PO-1", TODAY, BY);
  if (!sent.ok) throw new Error(sent.problems[0]?.message);
}

const pieces = (quantity: number) => ({ on: TODAY, lines: [{ lineNo: 1, itemCode: PIECE.code, quantity }] });
const rulesOf = ({ body }: { body: { problems?: { rule: string }[] } }) => body.problems?.map((p) => p.rule);
const receipts = () => loadLedger(db, { limit: 50 }).filter((m) => m.orderCode === "PO-1");

describe("the document", () => {
  test("is OpenAPI 3.1 to a validator from outside", async () => {
    const checked = await new Validator().validate(JSON.parse(JSON.stringify(openApiDocument())));
    expect(checked.errors ?? []).toEqual([]);
    expect(checked.valid).toBe(true);
  });

  test("names every route, and no route that is not there", () => {
    const found = readdirSync(FOLDER, { recursive: true, encoding: "utf8" })
      .map((f) => `/${f.replaceAll(path.sep, "/")}`)
      .filter((f) => f.endsWith("/route.ts") && !f.startsWith("/openapi.json"))
      .map((f) => f.slice(0, -"/route.ts".length).replaceAll("[", "{").replaceAll("]", "}"))
      .sort();
    const { paths } = openApiDocument() as { paths: object };
    expect(Object.keys(paths).sort()).toEqual(found);
    for (const o of OPERATIONS) expect(handlers.get(o.id), o.id).toBeTypeOf("function");
  });

  test("refers only to schemas that it has", () => {
    const text = JSON.stringify(openApiDocument());
    const { components } = openApiDocument() as { components: { schemas: Record<string, unknown> } };
    const named = new Set([...text.matchAll(/#\/components\/schemas\/(\w+)/g)].map((m) => m[1]!));
    for (const name of named) expect(Object.keys(components.schemas)).toContain(name);
    expect(named.size).toBeGreaterThan(8);
  });
});

/** Answers held to the document by a validator from outside. */
function fitsDocument(name: string, value: unknown): string {
  const ajv = new Ajv({ strict: false, allErrors: true });
  addFormats(ajv);
  ajv.addSchema({ $id: "doc", ...(openApiDocument() as object) });
  const check = ajv.getSchema(`doc#/components/schemas/${name}`)!;
  return check(value) ? "" : ajv.errorsText(check.errors);
}

describe("answers", () => {
  test.each([
    ["readNeeds", "NeedPage"],
    ["readProposals", "ProposalPage"],
    ["readStock", "StockPage"],
    ["readOrders", "OrderPage"],
    ["readOrder", "Order"],
  ])("%s is as the document says", async (id, name) => {
    orderOnTheWay();
    const { key } = await keyFor(SCOPES);
    const answer = await ask(id, { key });
    expect(answer.status, JSON.stringify(answer.body)).toBe(200);
    if (name !== "Order") expect(answer.body.rows.length).toBeGreaterThan(0);
    expect(fitsDocument(name, answer.body)).toBe("");
    expect(operation(id).answer.safeParse(answer.body).error?.issues ?? []).toEqual([]);
    expect(answer.headers.get("cache-control")).toBe("no-store");
  });

  test("the check itself notices a wrong answer", () => {
    expect(fitsDocument("NeedPage", { rows: [{ itemCode: 4 }], total: 1, next: null })).not.toBe("");
  });

  test("needs by item, warehouse and day; cable for all warehouses together", async () => {
    const { key } = await keyFor(["read needs"]);
    const all = await ask("readNeeds", { key });
    expect(
      all.body.rows.map((r: Record<string, unknown>) => [r.itemCode, r.warehouseCode, r.on, r.quantity]),
    ).toEqual(
      [
        [CABLE.code, null, TODAY, 6],
        [PIECE.code, "WH-EAST", TODAY, 6],
        [CABLE.code, null, addDays(TODAY, 2), 8.25],
        [PIECE.code, "WH-EAST", addDays(TODAY, 2), 8.25],
      ].sort((a, b) => (String(a[2]) + String(a[0]) < String(b[2]) + String(b[0]) ? -1 : 1)),
    );
    const one = await ask("readNeeds", { key, query: { itemCode: PIECE.code, from: addDays(TODAY, 1) } });
    expect(one.body).toMatchObject({
      total: 1,
      next: null,
      rows: [{ on: addDays(TODAY, 2), balance: -4.25 }],
    });
  });

  test("pages follow each other without a gap", async () => {
    const { key } = await keyFor(["read stock"]);
    const whole = await ask("readStock", { key });
    const seen: unknown[] = [];
    for (let offset: number | null = 0; offset !== null; ) {
      const part: Awaited<ReturnType<typeof ask>> = await ask("readStock", {
        key,
        query: { limit: "2", offset: String(offset) },
      });
      seen.push(...part.body.rows);
      offset = part.body.next;
    }
    expect(seen).toEqual(whole.body.rows);
    expect(whole.body.total).toBe(seen.length);
  });

  test("proposals go once they stand on an order", async () => {
    const { key } = await keyFor(["read needs"]);
    const before = await ask("readProposals", { key, query: { itemCode: PIECE.code } });
    expect(before.body.rows).toMatchObject([{ quantity: 10, kind: "purchase", warehouseCode: "WH-EAST" }]);
    proposeOrders(db, stock.plan, TODAY, BY);
    expect((await ask("readProposals", { key, query: { itemCode: PIECE.code } })).body.total).toBe(0);
  });
});

describe("keys", () => {
  test("only the hash is kept, and a repeated making is not answered from a store", async () => {
    const { key } = await keyFor(["read stock"]);
    expect(key).toMatch(/^bothends_[A-Za-z0-9_-]{43}$/);
    expect(JSON.stringify(db.select().from(interfaceKey).all())).not.toContain(key.slice(9));
    expect(JSON.stringify(loadLog(db, 20))).not.toContain(key.slice(9));
    const again = call({ key: "same intent" });
    await carryOut(makeKeyAction, { name: "Twice", scopes: ["read stock"], days: 1 }, again);
    expect(db.select().from(idempotencyKey).all()).toEqual([]);
  });

  describe.each(OPERATIONS.map((o) => ({ id: o.id, scope: o.scope })))("$id", ({ id, scope }) => {
    test("refuses no key, a wrong one, a revoked one, one that has run out", async () => {
      const none = await ask(id);
      expect([none.status, rulesOf(none)]).toEqual([401, ["key-missing"]]);
      expect(none.headers.get("www-authenticate")).toContain("Bearer");
      const wrong = await ask(id, { key: `bothends_${"x".repeat(43)}` });
      expect([wrong.status, rulesOf(wrong)]).toEqual([401, ["key-unknown"]]);
      const revoked = await keyFor([scope]);
      await carryOut(revokeKeyAction, { id: revoked.id }, call());
      expect(rulesOf(await ask(id, { key: revoked.key }))).toEqual(["key-unknown"]);
      const short = await keyFor([scope], 1);
      vi.setSystemTime(NOW + 86_400_000);
      const late = await ask(id, { key: short.key });
      expect([late.status, rulesOf(late)]).toEqual([401, ["key-expired"]]);
    });

    test(`refuses a key that may do everything but ${scope}`, async () => {
      const { key } = await keyFor(SCOPES.filter((s) => s !== scope));
      const answer = await ask(id, { key, body: operation(id).method === "post" ? pieces(1) : undefined });
      expect([answer.status, rulesOf(answer)]).toEqual([403, ["key-scope"]]);
      expect(answer.headers.get("content-type")).toBe("application/problem+json");
      expect(fitsDocument("ProblemDetails", answer.body)).toBe("");
    });
  });

  test("guessing rests by address; asking too often rests by key", async () => {
    const { key } = await keyFor(["read stock"]);
    for (let i = 0; i < 30; i++)
      await ask("readStock", { key: `bothends_${"y".repeat(43)}`, from: "10.9.9.9" });
    const barred = await ask("readStock", { key, from: "10.9.9.9" });
    expect([barred.status, rulesOf(barred)]).toEqual([429, ["too-many-attempts"]]);
    expect(db.select().from(failedAttempt).all().length).toBe(30);
    const statuses: number[] = [];
    for (let i = 0; i < 61; i++) statuses.push((await ask("readStock", { key })).status);
    expect(statuses.slice(0, 60).every((s) => s === 200)).toBe(true);
    expect(statuses[60]).toBe(429);
    vi.setSystemTime(NOW + 1_000);
    expect((await ask("readStock", { key })).status).toBe(200);
  });

  test("last used is noted, at most once a minute", async () => {
    const { key } = await keyFor(["read stock"]);
    expect(interfaceKeys(db)[0]?.lastUsedAt).toBeNull();
    await ask("readStock", { key });
    vi.setSystemTime(NOW + 30_000);
    await ask("readStock", { key });
    expect(interfaceKeys(db)[0]?.lastUsedAt).toBe(NOW);
    vi.setSystemTime(NOW + 90_000);
    await ask("readStock", { key });
    expect(interfaceKeys(db)[0]?.lastUsedAt).toBe(NOW + 90_000);
  });
});

describe("receipts", () => {
  let key: string;
  beforeEach(async () => {
    orderOnTheWay();
    ({ key } = await keyFor(["post receipts"]));
  });
  const post = (body: unknown, once = "delivery 1", params?: Record<string, string>) =>
    ask("postReceipt", { key, body, once, params });

  test("books a delivery under the key's name, and the answer is as the document says", async () => {
    const answer = await post({
      on: TODAY,
      lines: [
        { lineNo: 1, itemCode: PIECE.code, quantity: 20 },
        { lineNo: 2, itemCode: TAPE.code, quantity: 4, lotCode: "L9", expiresOn: addDays(TODAY, 300) },
        {
          lineNo: 3,
          itemCode: CABLE.code,
          quantity: 300,
          drums: [
            { serial: "D8", length: 100 },
            { serial: "D9", length: 200 },
          ],
        },
      ],
    });
    expect(answer.status, JSON.stringify(answer.body)).toBe(200);
    expect(fitsDocument("Receipted", answer.body)).toBe("");
    expect(answer.body).toMatchObject({
      orderCode: "PO-1",
      state: "partly received",
      lines: [
        { received: 20, open: 0 },
        { received: 4, open: 0 },
        { received: 300, open: 200 },
      ],
    });
    expect(receipts().map((m) => [m.kind, m.postedBy])).toEqual(
      Array(4).fill(["receipt", "Purchasing (interface key)"]),
    );
    expect(loadLog(db, 5)[0]).toMatchObject({
      action: "order received",
      userName: "Purchasing (interface key)",
    });
  });

  test("books once however often it is sent, and refuses the key for another delivery", async () => {
    const first = await post(pieces(5));
    const again = await post(pieces(5));
    expect(again.body).toEqual(first.body);
    expect([first.headers.get("idempotent-replayed"), again.headers.get("idempotent-replayed")]).toEqual([
      null,
      "true",
    ]);
    expect(receipts().length).toBe(1);
    const other = await post(pieces(6));
    expect([other.status, rulesOf(other)]).toEqual([409, ["key-used-elsewhere"]]);
    expect(loadOrder(db, "PO-1")?.lines[0]?.receivedC).toBe(500);
    await post(pieces(5), "delivery 2");
    expect(loadOrder(db, "PO-1")?.lines[0]?.receivedC).toBe(1_000);
  });

  test("takes a surplus only with a reason", async () => {
    const over = await post(pieces(21));
    expect([over.status, rulesOf(over)]).toEqual([422, ["over-delivery"]]);
    expect(over.body.problems[0]).toMatchObject({ path: "line 1 quantity", value: 21 });
    expect(over.body.type).toBe("urn:bothends:problem:over-delivery");
    const taken = await post({ ...pieces(21), overReason: "one more in the box" });
    expect(taken.body.lines[0]).toMatchObject({ received: 21, open: 0 });
  });

  test("books what came to another warehouse there, and refuses one that is none", async () => {
    const nowhere = await post({ ...pieces(3), warehouseCode: "VAN-1" });
    expect([nowhere.status, rulesOf(nowhere)]).toEqual([422, ["no-such-warehouse"]]);
    expect(nowhere.body.problems[0].path).toBe("warehouseCode");
    expect(receipts()).toEqual([]);
    const there = await post({ ...pieces(3), warehouseCode: "WH-WEST" }, "delivery 3");
    expect(there.body.lines[0]).toMatchObject({ received: 3, open: 17 });
    expect(receipts().map((m) => m.toPlace)).toEqual(["WH-WEST"]);
  });

  test.each([
    [
      "another item",
      { on: TODAY, lines: [{ lineNo: 1, itemCode: TAPE.code, quantity: 1 }] },
      422,
      "wrong-item",
    ],
    ["a line twice", { on: TODAY, lines: [...pieces(1).lines, ...pieces(2).lines] }, 422, "line-doubled"],
    ["no such line", { on: TODAY, lines: [{ lineNo: 9, itemCode: "X", quantity: 1 }] }, 422, "line-unknown"],
    ["a day to come", { ...pieces(1), on: addDays(TODAY, 1) }, 422, "delivery-future"],
    ["no lot", { on: TODAY, lines: [{ lineNo: 2, itemCode: TAPE.code, quantity: 1 }] }, 422, "lot-missing"],
    ["no drums", { on: TODAY, lines: [{ lineNo: 3, itemCode: CABLE.code, quantity: 9 }] }, 422, "drums-sum"],
    ["a third decimal", pieces(1.005), 400, "input-not-multiple-of"],
    ["a field too many", { ...pieces(1), price: 4 }, 400, "input-unrecognized-keys"],
    ["text", "no json", 400, "body-no-json"],
  ])("refuses %s and books nothing", async (_what, body, status, rule) => {
    const answer = await post(body);
    expect([answer.status, answer.body.problems[0].rule]).toEqual([status, rule]);
    expect(receipts()).toEqual([]);
    expect(fitsDocument("ProblemDetails", answer.body)).toBe("");
  });

  test("refuses a delivery without an idempotency key, of an unknown order, of a closed order", async () => {
    expect((await post(pieces(1), "")).body.problems[0].rule).toBe("idempotency-key-missing");
    const unknown = await post(pieces(1), "delivery 7", { code: "PO-99" });
    expect([unknown.status, rulesOf(unknown)]).toEqual([404, ["order-unknown"]]);
    await post(
      {
        on: TODAY,
        lines: [
          { lineNo: 1, itemCode: PIECE.code, quantity: 20 },
          { lineNo: 2, itemCode: TAPE.code, quantity: 4, lotCode: "L9", expiresOn: addDays(TODAY, 300) },
          { lineNo: 3, itemCode: CABLE.code, quantity: 500, drums: [{ serial: "D8", length: 500 }] },
        ],
      },
      "delivery 8",
    );
    const closed = await post(pieces(1), "delivery 9");
    expect([closed.status, rulesOf(closed)]).toEqual([409, ["order-state"]]);
  });
});
