import { defineRoute } from "@/app/_server/action";
import { fileAnswer } from "@/app/_server/fileAnswer";
import { loadOrder } from "@/db/queries/orderViews";
import { writeCsv } from "@/lib/exchange";

/** The order as a CSV file that a supplier's desk can read, and that this product reads back as orders. */
export const GET = defineRoute<never, { code: string }>({
  roles: ["logistics", "manager", "administrator"],
  reach: "any",
  run: (_input, { db, params }) => {
    const order = loadOrder(db, params.code);
    if (!order) return new Response("There is no such order.", { status: 404 });
    const bytes = writeCsv(
      "orders",
      order.lines.map((l) => ({
        orderCode: order.code,
        lineNo: l.lineNo,
        itemCode: l.itemCode,
        quantity: l.quantityC / 100,
        dueOn: l.dueOn,
        placeCode: order.placeCode,
        supplier: order.supplier,
        owner: order.kind === "call-off" ? ("customer" as const) : ("contractor" as const),
        ...(order.kind === "purchase" ? { priceMinor: l.priceMinor, currency: l.currency } : {}),
      })),
    );
    return fileAnswer(order.code, "csv", bytes);
  },
});
