import { openRead } from "@/app/_server/openInterface/openRoute";
import { readOrders } from "@/app/_server/openInterface/operations";
import { orderPage } from "@/app/_server/openInterface/views";

export const GET = openRead(readOrders, (query, { db }) => orderPage(db, query));
