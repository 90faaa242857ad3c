/**
 * What the open interface offers. The same schemas parse what comes in, type what goes out, and become the OpenAPI
 * document (document.ts), so that the document cannot say anything else than what is done.
 */
import { z } from "zod";
import type { Scope } from "@/db/schema/auth";

const code = z.string().min(1).max(60);
const owner = z
  .enum(["contractor", "customer"])
  .describe("Whose material: the customer's is called off, not bought.");
const quantity = z.number().describe("In the item's unit, two decimals at most.");
const itemFields = {
  itemCode: code,
  name: z.string(),
  unit: z.string().describe("m, piece, roll ..."),
};

const paging = {
  limit: z.coerce.number().int().min(1).max(1_000).default(200).describe("Rows in one answer."),
  offset: z.coerce.number().int().min(0).default(0).describe("Rows left out before; `next` of an answer."),
};
const ofItem = { itemCode: code.optional().describe("Only this item.") };
const ofWarehouse = { warehouseCode: code.optional().describe("Only this warehouse.") };

/** Schemas of answers by their name in the document. */
export const answers = z.registry<{ id: string }>();
/** Schemas of bodies that come in. */
export const bodies = z.registry<{ id: string }>();

function answer<T extends z.ZodType>(id: string, schema: T): T {
  answers.add(schema, { id });
  return schema;
}

function page<T extends z.ZodType>(id: string, row: T) {
  return answer(
    id,
    z.object({
      rows: z.array(row),
      total: z.int().describe("Rows that the filters leave, on all pages."),
      next: z.int().nullable().describe("Offset of the next page; null on the last."),
    }),
  );
}

const Need = answer(
  "Need",
  z.object({
    ...itemFields,
    owner,
    warehouseCode: code.nullable().describe("Null: all warehouses together, as cable is netted."),
    on: z.iso.date().describe("Day on which kits are picked."),
    quantity: quantity.describe("What the kits of the plan in force want on that day."),
    balance: quantity.describe("Balance at the end of the day if nothing new is ordered; below zero: short."),
  }),
);

const Proposal = answer(
  "Proposal",
  z.object({
    ...itemFields,
    owner,
    kind: z.enum(["purchase", "call-off"]),
    quantity,
    spares: z.number().describe("Part of the quantity that the warehouse keeps back as spares."),
    warehouseCode: z.string(),
    releaseOn: z.iso.date().describe("Last day to order and have it in time."),
    neededOn: z.iso.date().describe("Day from which the warehouse lacks it, if only of what it keeps back."),
    firstKitOn: z.iso.date().nullable().describe("Day of the first kit that waits for it; null: none does."),
    arrivesOn: z.iso.date().describe("Day on which it is there when ordered on the release day, or today."),
    pastDueDays: z.int().describe("Days by which it is too late for that kit; 0: in time, or none waits."),
    supplier: z.string().describe("Who it was ordered from last."),
    costMinor: z.int().describe("Whole minor units of the currency."),
    currency: z.string(),
  }),
);

const StockRow = answer(
  "StockRow",
  z.object({
    ...itemFields,
    owner,
    placeCode: code,
    placeKind: z.enum(["warehouse", "vehicle", "site", "hold", "repair"]),
    lotCode: z.string().nullable(),
    drumSerial: z.string().nullable(),
    expiresOn: z.iso.date().nullable().describe("Last day of use of the lot."),
    quantity,
    available: quantity.describe("What may be taken: nothing of a lot that has expired."),
  }),
);

const Order = answer(
  "Order",
  z.object({
    code,
    kind: z.enum(["purchase", "call-off"]),
    supplier: z.string(),
    state: z.enum(["proposed", "approved", "sent", "partly received", "closed"]),
    warehouseCode: code.describe("Where it is delivered to."),
    sentOn: z.iso.date().nullable(),
    note: z.string(),
    lines: z.array(
      z.object({
        lineNo: z.int(),
        ...itemFields,
        ordered: quantity,
        received: quantity,
        open: quantity.describe("Still to come; 0 when more came than was ordered."),
        dueOn: z.iso.date(),
        promisedOn: z.iso.date().nullable().describe("Day first promised when the order was sent."),
        priceMinor: z.int().describe("Of one unit, in whole minor units of the currency."),
        currency: z.string(),
        isCable: z.boolean().describe("A receipt names every drum with its serial and length."),
        expires: z.boolean().describe("A receipt names lot and last day of use."),
      }),
    ),
  }),
);

const twoDecimals = z.number().positive().max(10_000_000).multipleOf(0.01);
const Receipt = z.strictObject({
  on: z.iso.date().describe("Day of the delivery: today or earlier."),
  warehouseCode: code.optional().describe("Where it came to; without it the order's own warehouse."),
  overReason: z
    .string()
    .trim()
    .min(3)
    .max(300)
    .optional()
    .describe("Why more than was ordered is taken in; without it that is refused."),
  lines: z
    .array(
      z.strictObject({
        lineNo: z.int().positive(),
        itemCode: code.describe("What came: refused when the line ordered something else."),
        quantity: twoDecimals.describe("For cable: the sum of the drums."),
        lotCode: code.optional(),
        expiresOn: z.iso.date().optional().describe("Last day of use, for what ages."),
        sureOfExpired: z.iso
          .date()
          .optional()
          .describe("The last day of use again, when it is past and the goods are taken in all the same."),
        drums: z
          .array(z.strictObject({ serial: code, length: twoDecimals.describe("m") }))
          .max(500)
          .optional(),
      }),
    )
    .min(1)
    .max(500),
});
bodies.add(Receipt, { id: "Receipt" });

const Receipted = answer(
  "Receipted",
  z.object({
    orderCode: code,
    state: z.enum(["sent", "partly received", "closed"]),
    lines: z.array(z.object({ lineNo: z.int(), received: quantity, open: quantity })),
  }),
);

export interface Operation<
  Q extends z.ZodObject = z.ZodObject,
  A extends z.ZodType = z.ZodType,
  B extends z.ZodType = z.ZodType,
> {
  id: string;
  method: "get" | "post";
  /** Below /api/open/v1. */
  path: string;
  scope: Scope;
  summary: string;
  query: Q;
  /** Of a post: what comes in. */
  body?: B;
  answer: A;
}

const none = z.object({});

export const readNeeds = {
  id: "readNeeds",
  method: "get",
  path: "/needs",
  scope: "read needs",
  summary: "What the kits of the plan in force want, by item, warehouse and day.",
  query: z.object({
    ...ofItem,
    ...ofWarehouse,
    from: z.iso.date().optional().describe("First day."),
    to: z.iso.date().optional().describe("Last day."),
    ...paging,
  }),
  answer: page("NeedPage", Need),
} as const satisfies Operation;

export const readProposals = {
  id: "readProposals",
  method: "get",
  path: "/proposals",
  scope: "read needs",
  summary: "What the netting wants ordered and is on no order yet, the earliest release day first.",
  query: z.object({
    ...ofItem,
    ...ofWarehouse,
    isDue: z
      .enum(["true", "false"])
      .optional()
      .describe("true: only what has to be ordered today; false: only later."),
    ...paging,
  }),
  answer: page("ProposalPage", Proposal),
} as const satisfies Operation;

export const readStock = {
  id: "readStock",
  method: "get",
  path: "/stock",
  scope: "read stock",
  summary: "What lies where, by item, place, lot and drum.",
  query: z.object({ ...ofItem, placeCode: code.optional().describe("Only this place."), ...paging }),
  answer: page("StockPage", StockRow),
} as const satisfies Operation;

export const readOrders = {
  id: "readOrders",
  method: "get",
  path: "/orders",
  scope: "read orders",
  summary: "Orders with their lines, the newest first.",
  query: z.object({
    state: z.enum(["proposed", "approved", "sent", "partly received", "closed"]).optional(),
    ...paging,
  }),
  answer: page("OrderPage", Order),
} as const satisfies Operation;

export const readOrder = {
  id: "readOrder",
  method: "get",
  path: "/orders/{code}",
  scope: "read orders",
  summary: "One order with its lines.",
  query: none,
  answer: Order,
} as const satisfies Operation;

export const postReceipt = {
  id: "postReceipt",
  method: "post",
  path: "/orders/{code}/receipts",
  scope: "post receipts",
  summary: "Books a delivery of an order into the ledger: all of it or nothing.",
  query: none,
  body: Receipt,
  answer: Receipted,
} as const satisfies Operation;

export const OPERATIONS: readonly Operation[] = [
  readNeeds,
  readProposals,
  readStock,
  readOrders,
  readOrder,
  postReceipt,
];
