/** The crew's page says "same hours" of the other end only where they are the same. */
import { expect, test } from "vitest";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { makeWords } from "@/app/_ui/language/words";
import { otherEndWords } from "@/app/(work)/week/visit/[...visitId]/otherEnd";
import { calendarDate } from "@/lib/time";

const en = makeWords("en", wholeCatalogueOf("en"));
const de = makeWords("de", wholeCatalogueOf("de"));
const own = { startOn: calendarDate("2026-03-17"), startMin: 480 };
const other = { ...own, siteCode: "S2", crewCode: "C1", endOn: calendarDate("2026-03-17"), endMin: 720 };

test("the same start is said as such, another one with its day and hours", () => {
  expect(otherEndWords(own, other, undefined, en)).toBe("Crew C1 at S2, same hours");
  const later = otherEndWords(own, { ...other, startMin: 600 }, undefined, en);
  expect(later).toMatch(/^Crew C1 at S2, at other hours: .*17\sMar.* 10:00 to 12:00$/);
  const nextDay = { ...other, startOn: calendarDate("2026-03-18"), endOn: calendarDate("2026-03-19") };
  expect(otherEndWords(own, nextDay, undefined, en)).toMatch(/18\sMar.* 08:00 to .*19\sMar.* 12:00$/);
  expect(otherEndWords(own, nextDay, undefined, de)).toMatch(/^Trupp C1 an S2, zu anderer Zeit: .* bis /);
});

test("an end that was reported done, that nobody goes to or that has no place is said so", () => {
  expect(otherEndWords(own, other, calendarDate("2026-03-16"), en)).toMatch(
    /^Crew C1 at S2, reported done on .*16\sMar/,
  );
  expect(otherEndWords(own, other, calendarDate("2026-03-16"), de)).toMatch(
    /^Trupp C1 an S2, fertig gemeldet am /,
  );
  expect(otherEndWords(own, undefined, calendarDate("2026-03-16"), en)).toMatch(/^reported done on /);
  expect(otherEndWords(own, { ...other, isWithdrawn: true }, undefined, en)).toMatch(/^withdrawn/);
  expect(otherEndWords(own, undefined, undefined, en)).toMatch(/^not planned/);
});
