import { openRead } from "@/app/_server/openInterface/openRoute";
import { readProposals } from "@/app/_server/openInterface/operations";
import { proposalPage } from "@/app/_server/openInterface/views";

export const GET = openRead(readProposals, (query, { db }) => proposalPage(db, query));
