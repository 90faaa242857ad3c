import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { LEFT_WORDS } from "@/app/_ui/DrumDrawing";
import { KIT_STATES } from "@/app/_ui/states";
import { PICK_WORDS } from "@/app/(work)/kits/pickWords";
import { MARKS as COUNT_STATES } from "@/app/(work)/stock/counts/CountStateMark";
import { WORDS as FAULT_STEPS } from "@/app/(work)/stock/faults/[id]/FaultSteps";
import { LOOK as FAULT_STATES } from "@/app/(work)/stock/faults/FaultStateMark";
import { LOT_RULE_WORDS } from "@/app/(work)/stock/items/[code]/lotRuleWords";
import { KIND_WORDS as LABEL_KIND_WORDS } from "@/app/(work)/stock/labels/wish";
import { COLUMNS as ON_HAND_COLUMNS, ROW as ON_HAND_ROW } from "@/app/(work)/stock/OnHand";
import { LOOK as ORDER_STATES } from "@/app/(work)/stock/OrderStateMark";
import { TITLES as ORDER_TITLES } from "@/app/(work)/stock/OrdersTab";
import { KINDS as RECORD_KINDS } from "@/app/(work)/stock/record/RecordForm";
import { WAYS as SPARE_WAYS } from "@/app/(work)/stock/spares/DecideButton";
import { REMEDIES } from "@/db/queries/ledger";
import { LEDGER_BEGINNERS, LEDGER_REASONS } from "@/db/queries/ledgerReasons";
import { ORDER_STEPS } from "@/db/queries/orderSteps";
import { UNCUT_REASONS } from "@/lib/drums";
import { LABEL_SHEETS } from "@/lib/labels";
import { ITEM_CATEGORIES, UNITS } from "@/lib/site";
import { FAULT_CAUSES, MOVEMENT_KINDS, SCRAP_REASONS } from "@/lib/stock";

const APP = path.resolve(import.meta.dirname, "../../../app/(work)");

/** What the inputs of actions say of a value that they do not take: the words beside a check of zod's. */
const INPUT_WORDS = ["kits", "stock"].flatMap((folder) =>
  readdirSync(path.join(APP, folder), { recursive: true, encoding: "utf8" })
    .filter((name) => /(ctions|fields)\.ts$/.test(name))
    .flatMap((name) => [
      ...readFileSync(path.join(APP, folder, name), "utf8").matchAll(
        /\b(?:number|string|enum|min|max|int|regex)\((?:[^"()]+, |)"([^"]+ [^"]+)"[,)]/g,
      ),
    ])
    .map(([, words]) => words!),
);

/** What the ledger's triggers refuse, in their words. */
const LEDGER_RULES = readdirSync(path.join(APP, "../../db/migrations"))
  .filter((name) => name.endsWith(".sql"))
  .flatMap((name) => [
    ...readFileSync(path.join(APP, "../../db/migrations", name), "utf8").matchAll(
      /RAISE\(ABORT, *'([^']*)'/g,
    ),
  ])
  .map(([, words]) => words!);

/** Texts that pages of the area logistics say through a variable. */
export const SAID_IN_LOGISTICS: readonly string[] = [
  ...[KIT_STATES, FAULT_STATES, ORDER_STATES].flatMap((states) => Object.values(states).map((s) => s.word)),
  ...Object.values(PICK_WORDS),
  ...Object.values(COUNT_STATES).map(([, words]) => words),
  // As refusals name the state that something is in.
  ...[COUNT_STATES, FAULT_STATES, ORDER_STATES].flatMap((states) => Object.keys(states)),
  ...["moved", ...Object.keys(ORDER_STEPS)],
  ...Object.values(FAULT_STEPS).flatMap((words) => Object.values(words)),
  ...[LEFT_WORDS, LOT_RULE_WORDS, LABEL_KIND_WORDS, ORDER_TITLES].flatMap((words) => Object.values(words)),
  ...RECORD_KINDS.map(([, label]) => label),
  ...SPARE_WAYS.map((way) => way.label),
  ...ON_HAND_COLUMNS.flatMap((column) => [column.header, ...(column.hint ? [column.hint] : [])]),
  ...Object.values(ON_HAND_ROW),
  // Values of its columns that are words of ours.
  ...[...ITEM_CATEGORIES, "warehouse", "vehicle", "site", "hold", "repair"],
  ...["expired", "good", "contractor", "customer"],
  // Beside a field for a quantity.
  ...UNITS.filter((unit) => unit.length > 1),
  ...[...MOVEMENT_KINDS, "installed", ...FAULT_CAUSES, ...SCRAP_REASONS],
  // What else the offcut report sums up by.
  ...["saw allowance", "left at the site", "lost after the cut", "no reason given"],
  ...Object.values(LABEL_SHEETS).map((sheet) => sheet.name),
  ...INPUT_WORDS,
  ...LEDGER_RULES,
  ...REMEDIES.map(([, remedy]) => remedy),
  "Correct the row and post it again.",
  ...Object.values(LEDGER_REASONS),
  ...LEDGER_BEGINNERS,
  ...UNCUT_REASONS,
  // A transfer that comes.
  ...["proposed", "planned"],
];
