/** A visit has one name, also in sentences that plans keep. */
import { expect, test } from "vitest";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { makeWords } from "@/app/_ui/language/words";
import { sayVisit } from "@/app/(work)/plan/sayVisit";
import { whyWords } from "@/app/(work)/plan/why";

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

test("plans made earlier number the first revisit, and no other figure is taken for its part", () => {
  expect(whyWords("waits for VH015 near revisit 1", en)).toBe("waits for VH015 near revisit");
  expect(whyWords("waits for VH015 near revisit 2", en)).toBe("waits for VH015 near revisit, part 2");
  expect(whyWords("VH015 near revisit 12 h late", en)).toBe("VH015 near revisit 12 h late");
  expect(whyWords("VH015 near install 3 steps", en)).toBe("VH015 near install 3 steps");
});
