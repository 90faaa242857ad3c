import { expect, test } from "vitest";
import { english, figure, phrase, shortFigure } from "@/lib/phrase";

test("a short figure has the decimals that it needs, two at most", () => {
  expect([4, 12.5, 0.07, 1 / 3, -2.25, 1e-9].map(shortFigure)).toEqual([
    figure(4),
    figure(12.5, 1),
    figure(0.07, 2),
    figure(0.33, 2),
    figure(-2.25, 2),
    figure(0),
  ]);
  expect(english(phrase("{{quantity}} m left", { quantity: shortFigure(305.4) }))).toBe("305.4 m left");
});
