import { describe, expect, it } from "vitest";
import { type ApprovalLimit, approvalProblem, mayApprove, orderCost } from "@/lib/stock";

const EUR = (minor: number) => [{ currency: "EUR", minor }];
const LIMITS: ApprovalLimit[] = [
  { role: "logistics", currency: "EUR", upToMinor: 50_000 },
  { role: "manager", currency: "EUR", upToMinor: 1_000_000 },
];

describe("an order's cost", () => {
  it("adds by currency, each line rounded to whole minor units", () => {
    const lines = [
      { priceMinor: 199, quantityC: 150, currency: "EUR" }, // 298.5 -> 299
      { priceMinor: 100, quantityC: 300, currency: "EUR" },
      { priceMinor: 7, quantityC: 100, currency: "USD" },
    ];
    expect(orderCost({ kind: "purchase", lines })).toEqual([
      { currency: "EUR", minor: 599 },
      { currency: "USD", minor: 7 },
    ]);
    expect(orderCost({ kind: "call-off", lines })).toEqual([]);
  });
});

describe("who may approve", () => {
  it("is, as delivered, a manager anything and logistics nothing", () => {
    expect(mayApprove("manager", EUR(10 ** 9), [])).toBe(true);
    expect(mayApprove("logistics", EUR(1), [])).toBe(false);
    expect(mayApprove("logistics", [], [])).toBe(false);
  });

  it("is a role up to its limit, the limit itself within, an administrator beyond every limit", () => {
    expect(mayApprove("logistics", EUR(50_000), LIMITS)).toBe(true);
    expect(mayApprove("logistics", EUR(50_001), LIMITS)).toBe(false);
    expect(mayApprove("manager", EUR(1_000_001), LIMITS)).toBe(false);
    expect(mayApprove("administrator", EUR(10 ** 11), LIMITS)).toBe(true);
  });

  it("has nothing to spend in a currency that its limits do not name", () => {
    const both = [...EUR(10), { currency: "USD", minor: 1 }];
    expect(mayApprove("manager", both, LIMITS)).toBe(false);
    expect(mayApprove("manager", both, [...LIMITS, { role: "manager", currency: "USD", upToMinor: 1 }])).toBe(
      true,
    );
  });

  it("approves the customer's own material with any limit: it costs nothing", () => {
    expect(mayApprove("logistics", [], LIMITS)).toBe(true);
  });
});

describe("a refusal", () => {
  it("names the amount, the limit and who may", () => {
    const problem = approvalProblem({ code: "PO-7", cost: EUR(123_456) }, "logistics", LIMITS)!;
    expect(problem.message).toBe(
      "PO-7 costs 1234.56 EUR; logistics staff approve up to 500.00 EUR an order.",
    );
    expect(problem.remedy).toBe("It may be approved by rollout managers or administrators.");
    const over = approvalProblem({ code: "PO-7", cost: EUR(2_000_000) }, "manager", LIMITS)!;
    expect(over.remedy).toBe("It may be approved by administrators.");
  });

  it("has the decimals of the currency", () => {
    const limits: ApprovalLimit[] = [{ role: "manager", currency: "JPY", upToMinor: 5_000 }];
    const cost = [{ currency: "JPY", minor: 5_001 }];
    expect(approvalProblem({ code: "PO-7", cost }, "manager", limits)!.message).toContain("costs 5001 JPY");
  });

  it("says so where a role approves nothing at all", () => {
    const problem = approvalProblem({ code: "PO-7", cost: EUR(1) }, "logistics", [])!;
    expect(problem.message).toBe("PO-7 waits for approval; logistics staff approve no orders here.");
  });
});
