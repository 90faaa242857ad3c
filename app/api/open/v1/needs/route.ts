import { openRead } from "@/app/_server/openInterface/openRoute";
import { readNeeds } from "@/app/_server/openInterface/operations";
import { needPage } from "@/app/_server/openInterface/views";

export const GET = openRead(readNeeds, (query, { db }) => needPage(db, query));
