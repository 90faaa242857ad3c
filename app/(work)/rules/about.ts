import type { PolicyKind } from "@/db/schema";

/** The tabs of the rules, said in the reader's language. */
export const RULE_TABS = {
  takeoff: "Take-off rows",
  figures: "Take-off figures",
  weather: "Weather limits",
  hours: "Hour norms",
  plan: "Plan and cutting",
  stock: "Stock",
  acceptance: "Acceptance",
  crews: "Crews",
  accounts: "Accounts",
  interface: "Interface",
  log: "Log",
} as const;

/** Factors from actual hours have a page of their own. */
export type SheetKind = Exclude<PolicyKind, "hour calibration">;

/** What each kind of rule data is, in a sentence; said above its figures. */
export const ABOUT: Readonly<Record<SheetKind, string>> = {
  "takeoff rules":
    "Each row counts something of a link end and asks for an item. Delivered rows are defaults: confirm them with the maker's instructions.",
  "takeoff policy":
    "Every delivered figure is a default: confirm it with the maker's instructions and local rules.",
  "weather limits":
    "Anyone who plans may make a limit stricter; only an administrator may make one looser, with a reason that is logged.",
  "hour norms":
    "Delivered figures are from memory and common practice: calibrate them with your own actuals.",
  "plan weights":
    "One unit is about what a crew costs in a minute and a half on the road; only ratios matter.",
  cutting: "How runs are cut from drums: what each cut loses, and what is too short to keep.",
  stock:
    "Which warehouse a kit is picked from, what a transfer takes, what orders and stock cost, and how safe is safe enough.",
  "acceptance limits":
    "What a reading is held against. The customer's acceptance procedure comes first; readings taken earlier are judged anew.",
};
