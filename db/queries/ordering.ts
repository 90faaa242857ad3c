/** How an item is ordered: lot rule, its figures and prices, safety stock. */

import { ok, type Problem, type Result, refused } from "@/lib/result";
import type { Db } from "../open";
import { loadOrdering, type OrderingChange, saveOrdering } from "./catalogue";
import { addLogEntry } from "./log";

/** Saves a change of how an item is ordered; refused with everything that is wrong with its prices. */
export function changeOrdering(
  db: Db,
  itemCode: string,
  change: OrderingChange,
  by: { name: string; at: number },
): Result<string> {
  const before = loadOrdering(db).get(itemCode);
  if (!before) {
    return refused({
      path: "code",
      rule: "item-unknown",
      value: itemCode,
      message: `There is no item ${itemCode}.`,
      remedy: "Open the list of items again.",
    });
  }
  const problems = priceProblems(change, before.priceMinor);
  if (problems.length > 0) return refused(...problems);
  saveOrdering(db, itemCode, change);
  addLogEntry(db, {
    at: by.at,
    userName: by.name,
    action: "ordering changed",
    subject: `item ${itemCode}`,
    detail: { before, after: change },
  });
  return ok(itemCode);
}

function priceProblems({ priceBreaks, lotRule }: OrderingChange, priceMinor: number): Problem[] {
  const problems: Problem[] = [];
  let last = { fromQuantity: 0, priceMinor };
  for (const [i, b] of priceBreaks.entries()) {
    const at = { path: `price ${i + 1}`, value: `${b.fromQuantity}: ${b.priceMinor}` };
    if (b.fromQuantity <= last.fromQuantity)
      problems.push({
        ...at,
        rule: "break-order",
        message: `The quantity does not rise above ${last.fromQuantity}.`,
        remedy: "Give the prices with rising quantities.",
      });
    if (b.priceMinor >= last.priceMinor)
      problems.push({
        ...at,
        rule: "break-price",
        message: "The price does not fall below the one before it.",
        remedy: "Give a lower price, or leave the line out.",
      });
    last = b;
  }
  if (lotRule === "price breaks" && priceBreaks.length === 0)
    problems.push({
      path: "prices",
      rule: "breaks-missing",
      value: lotRule,
      message: "The rule weighs prices, and the item has one price only.",
      remedy: "Enter the lower prices, or choose Wagner-Whitin.",
    });
  return problems;
}
