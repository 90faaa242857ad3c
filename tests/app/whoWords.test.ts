import { expect, test } from "vitest";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { makeWords } from "@/app/_ui/language/words";
import { whyWords } from "@/app/(work)/plan/why";
import { whoWords } from "@/app/(work)/week/whoWords";
import { calendarDate } from "@/lib/time";

const english = makeWords("en", wholeCatalogueOf("en"));
const german = makeWords("de", wholeCatalogueOf("de"));
const date = calendarDate;

const people = [
  { name: "Ada", isLead: true, leave: [] },
  {
    name: "Tom",
    isLead: false,
    leave: [{ fromOn: date("2026-03-24"), toOn: date("2026-04-05"), reason: "holiday" }],
  },
  {
    name: "Kim",
    isLead: false,
    leave: [{ fromOn: date("2026-03-26"), toOn: date("2026-03-26"), reason: "course" }],
  },
];

test("who goes that day is named without who is on leave, and that one apart with the last day", () => {
  const said = (on: string, until: string, words = english) => {
    const { names, away } = whoWords(people, date(on), date(until), words);
    return { names, away: away.map((a) => a.replaceAll(/[\u202f\u00a0]/g, " ")) };
  };
  expect(said("2026-03-24", "2026-03-24")).toEqual({
    names: "Ada (lead), Kim",
    away: ["Tom is on leave until Sun 5 Apr"],
  });
  expect(said("2026-03-23", "2026-03-30")).toEqual({
    names: "Ada (lead), Tom, Kim",
    away: ["Tom is on leave from Tue 24 Mar to Sun 5 Apr", "Kim is on leave on Thu 26 Mar"],
  });
  expect(said("2026-03-24", "2026-03-24", german).away[0]).toMatch(/^Tom ist bis So.* abwesend$/);
  expect(whoWords(people.slice(1, 2), date("2026-03-24"), date("2026-03-24"), english).names).toBe(
    "nobody, all are on leave",
  );
});

test("what a crew on leave lacks is said in German", () => {
  expect(whyWords("the crew is 1 climber and 2 people short", german)).not.toMatch(/crew|climber|people/);
});
