/** A visit has one name, also in sentences that plans keep. */
import { expect, test } from "vitest";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { makeWords } from "@/app/_ui/language/words";
import { sayVisit } from "@/app/(work)/plan/sayVisit";
import { brokenWords, REMEDIES_BY_HAND, REMEDY_FOR_WAITING, whyWords } from "@/app/(work)/plan/why";

const de = makeWords("de", wholeCatalogueOf("de"));
const en = makeWords("en", wholeCatalogueOf("en"));

test("what a plan keeps about a visit names it as every page does", () => {
  const named = sayVisit("VH018/far/install", de);
  expect(named).toContain("Montage");
  expect(whyWords("waits for VH018 far install", de)).toContain(named);
  expect(whyWords("waits for VH018 far install", en)).toBe("waits for VH018 far install");
  expect(whyWords("waits for VH018 far alignment, part 2", de)).toContain(
    sayVisit("VH018/far/alignment-2", de),
  );
});

test("install and revisit of one end are named apart", () => {
  const ids = ["VH017/far/install", "VH017/far/revisit", "VH017/far/revisit-2"];
  expect(ids.map((id) => sayVisit(id, en))).toEqual([
    "VH017 far install",
    "VH017 far revisit",
    "VH017 far revisit, part 2",
  ]);
  expect(new Set(ids.map((id) => sayVisit(id, de))).size).toBe(3);
});

test("plans made earlier number the first revisit, and no other figure is taken for its part", () => {
  expect(whyWords("waits for VH015 near revisit 1", en)).toBe("waits for VH015 near revisit");
  expect(whyWords("waits for VH015 near revisit 2", en)).toBe("waits for VH015 near revisit, part 2");
  expect(whyWords("VH015 near revisit 12 h late", en)).toBe("VH015 near revisit 12 h late");
  expect(whyWords("VH015 near install 3 steps", en)).toBe("VH015 near install 3 steps");
});

test("whoever moves a visit that waits for one without a place is not told to pick the two together", () => {
  const order = (message: string) => brokenWords([{ rule: "order", message }], en)[0]?.helps;
  expect(order("VH022 near alignment is placed but waits for VH022 near install, which is not")).toBe(
    REMEDY_FOR_WAITING,
  );
  expect(order("VH022 near alignment starts before VH022 near install ends")).toBe(REMEDIES_BY_HAND.order);
});
