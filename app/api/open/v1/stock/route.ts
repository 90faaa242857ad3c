import { openRead } from "@/app/_server/openInterface/openRoute";
import { readStock } from "@/app/_server/openInterface/operations";
import { stockPage } from "@/app/_server/openInterface/views";

export const GET = openRead(readStock, (query, { db }) => stockPage(db, query));
