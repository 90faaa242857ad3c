import { expect, test } from "vitest";
import { CLASS_TITLES } from "@/app/_server/ruleFigures/weatherFigures";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { makeWords } from "@/app/_ui/language/words";
import { STATES } from "@/app/_ui/states";
import { CLASS_WORDS } from "@/app/_ui/weather/factors";
import { HOP_STATE, HOP_WORDS, OUTCOME_STATE } from "@/app/(work)/hops/hopStates";

test("the map and its key call a hop's state as the list does", () => {
  const states = Object.values(HOP_STATE);
  for (const { state, word } of states) expect(HOP_WORDS[state]).toBe(word);
  // Each state has a sign of its own, or the key would say one word for two of them.
  expect(new Set(states.map((s) => s.state)).size).toBe(states.length);
});

test("what its crew put on hold is called as every hold is", () => {
  expect(OUTCOME_STATE.hold.word).toBe(STATES.hold.word);
});

test("German has one word for a hop on promise, and the rules one for work aloft", () => {
  const { t } = makeWords("de", wholeCatalogueOf("de"));
  expect(t("On promise, P80")).toBe(`${t("On promise")}, P80`);
  expect(CLASS_TITLES.aloft).toBe(CLASS_WORDS.aloft);
});
