import { defineRoute } from "@/app/_server/action";
import { homeZone } from "@/app/_server/clock";
import { fileAnswer } from "@/app/_server/fileAnswer";
import { serverWords } from "@/app/_server/language";
import { tableDocument } from "@/app/_server/tableDocument";
import { loadOrder } from "@/db/queries/orderViews";
import { readSetting } from "@/db/queries/settings";
import { STOCK_ROLES } from "../../../words";
import { orderDocument } from "../orderDocument";

/** The order to hand on, in the reader's language. */
export const GET = defineRoute<never, { code: string }>({
  roles: STOCK_ROLES,
  reach: "any",
  run: async (_input, { db, params, now }) => {
    const order = loadOrder(db, params.code);
    if (!order) return new Response("There is no such order.", { status: 404 });
    const sheet = orderDocument(order, await serverWords(), homeZone(db), now, readSetting(db, "buyer"));
    return fileAnswer(order.code, "pdf", await tableDocument(sheet));
  },
});
