import { expect, test } from "vitest";
import { weatherGroups } from "@/app/_server/ruleFigures/weatherFigures";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { makeWords } from "@/app/_ui/language/words";
import { STATES } from "@/app/_ui/states";
import { CLASS_WORDS } from "@/app/_ui/weather/factors";
import { HOP_STATE, HOP_WORDS, OUTCOME_STATE } from "@/app/(work)/hops/hopStates";
import { WORK_CLASSES } from "@/lib/weather";

test("the map and its key call a hop's state as the list does", () => {
  const states = Object.values(HOP_STATE);
  for (const { state, word } of states) expect(HOP_WORDS[state]).toBe(word);
  // Each state has a sign of its own, or the key would say one word for two of them.
  expect(new Set(states.map((s) => s.state)).size).toBe(states.length);
});

test("what its crew put on hold is called as every hold is", () => {
  expect(OUTCOME_STATE.hold.word).toBe(STATES.hold.word);
});

test("the rules call each work class as the weather pages do", () => {
  const titles = weatherGroups().map((group) => group.title);
  expect(titles.slice(0, -1)).toEqual(WORK_CLASSES.map((c) => CLASS_WORDS[c]));
});

test("German has one word for a hop on promise", () => {
  const { t } = makeWords("de", wholeCatalogueOf("de"));
  expect(t("On promise, P80")).toBe(`${t("On promise")}, P80`);
});
