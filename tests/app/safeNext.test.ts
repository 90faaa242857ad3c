import { expect, test } from "vitest";
import { safeNext } from "@/app/_server/session";

test.each([
  ["/hops/H-001?tab=kit", "/hops/H-001?tab=kit"],
  ["/", undefined],
  ["", undefined],
  [undefined, undefined],
  ["/sign-in?next=/plan", undefined],
  ["https://elsewhere.example", undefined],
  ["//elsewhere.example", undefined],
  ["/\t/elsewhere.example", undefined],
  ["/\\elsewhere.example", undefined],
  ["javascript:alert(1)", undefined],
])("after signing in, %o leads to %o", (next, expected) => {
  expect(safeNext(next)).toBe(expected);
});
