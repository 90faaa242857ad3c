import { openRead } from "@/app/_server/openInterface/openRoute";
import { readOrder } from "@/app/_server/openInterface/operations";
import { oneOrder } from "@/app/_server/openInterface/views";

export const GET = openRead(readOrder, (_query, { db, params }) => oneOrder(db, params.code ?? ""));
