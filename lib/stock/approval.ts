/** Up to which amount a role approves an order on its own. */
import { figure, type Phrase, phrase } from "@/lib/phrase";
import { type Problem, sentences } from "@/lib/result";

/** Roles for which an organisation sets a limit; an administrator approves any order. */
export const LIMITED_ROLES = ["manager", "logistics"] as const;
export type LimitedRole = (typeof LIMITED_ROLES)[number];
export type ApprovingRole = LimitedRole | "administrator";

export interface ApprovalLimit {
  role: LimitedRole;
  currency: string;
  /** Whole minor units of the currency; the limit itself is still within. */
  upToMinor: number;
}

export interface Money {
  currency: string;
  minor: number;
}

/** What a line of an order costs, in minor units. */
export const costOf = (line: { priceMinor: number; quantityC: number }): number =>
  Math.round((line.priceMinor * line.quantityC) / 100);

/** What an order costs, by currency: amounts of two currencies are never added. The customer's own material costs nothing. */
export function orderCost(order: {
  kind: "purchase" | "call-off";
  lines: readonly { priceMinor: number; quantityC: number; currency: string }[];
}): Money[] {
  if (order.kind === "call-off") return [];
  const sums = new Map<string, number>();
  for (const l of order.lines) sums.set(l.currency, (sums.get(l.currency) ?? 0) + costOf(l));
  return [...sums].map(([currency, minor]) => ({ currency, minor }));
}

/**
 * Whether a role may approve what costs so much. Without a limit of its own a manager approves everything and
 * logistics nothing, as delivered. Who has limits has none to spend in a currency that they do not name.
 */
export function mayApprove(
  role: ApprovingRole,
  cost: readonly Money[],
  limits: readonly ApprovalLimit[],
): boolean {
  if (role === "administrator") return true;
  const own = limits.filter((l) => l.role === role);
  if (own.length === 0) return role === "manager";
  return cost.every(({ currency, minor }) => minor <= upTo(own, currency));
}

const upTo = (own: readonly ApprovalLimit[], currency: string): number =>
  own.find((l) => l.currency === currency)?.upToMinor ?? 0;

const PEOPLE: Record<ApprovingRole, Phrase> = {
  manager: phrase("rollout managers"),
  logistics: phrase("logistics staff"),
  administrator: phrase("administrators"),
};

/** Who may approve it instead, the nearest first; an administrator always may. */
export function approversOf(cost: readonly Money[], limits: readonly ApprovalLimit[]): ApprovingRole[] {
  return ([...LIMITED_ROLES].reverse() as ApprovingRole[])
    .concat("administrator")
    .filter((role) => mayApprove(role, cost, limits));
}

/** Why a role may not approve an order: its amount, the role's limit, and who may. */
export function approvalProblem(
  order: { code: string; cost: readonly Money[] },
  role: ApprovingRole,
  limits: readonly ApprovalLimit[],
): Problem | undefined {
  const { code, cost } = order;
  if (mayApprove(role, cost, limits)) return undefined;
  const own = limits.filter((l) => l.role === role);
  const over = cost.find(({ currency, minor }) => minor > upTo(own, currency));
  const message =
    own.length === 0 || !over
      ? phrase("{{code}} waits for approval; {{people}} approve no orders here.", {
          people: PEOPLE[role],
          code,
        })
      : phrase("{{code}} costs {{cost}}; {{people}} approve up to {{limit}} an order.", {
          code,
          cost: moneyFigure(over.minor, over.currency),
          people: PEOPLE[role],
          limit: moneyFigure(upTo(own, over.currency), over.currency),
        });
  const names = approversOf(cost, limits).map((r) => PEOPLE[r]);
  return {
    path: "amount",
    rule: "approval-limit",
    value: over?.minor ?? null,
    ...sentences(
      message,
      phrase("It may be approved by {{people}}.", {
        people: names.reduce((one, other) => phrase("{{one}} or {{other}}", { one, other })),
      }),
    ),
  };
}

/** Minor units as an amount with the currency's own decimals. */
function moneyFigure(minor: number, currency: string) {
  const { maximumFractionDigits: digits = 2 } = new Intl.NumberFormat("en", {
    style: "currency",
    currency,
  }).resolvedOptions();
  return figure(minor / 10 ** digits, digits, currency);
}
