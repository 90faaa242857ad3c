import { defineMutationRoute } from "@/app/_server/action";
import { reportVisit } from "./reportAction";

/** Reports come here from the phone's outbox: under a stable address, whatever build the page was made by. */
export const POST = defineMutationRoute(reportVisit);
