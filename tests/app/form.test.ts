import { expect, test } from "vitest";
import { formFields } from "@/app/_server/action";
import { safeNext } from "@/app/_server/session";

test("a form's fields come by name, repeated ones as a list, Next's own not at all", () => {
  const form = new FormData();
  form.append("note", "abc");
  form.append("crew", "1");
  form.append("crew", "2");
  form.append("$ACTION_ID_1", "x");
  expect(formFields(form)).toEqual({ note: "abc", crew: ["1", "2"] });
});

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
