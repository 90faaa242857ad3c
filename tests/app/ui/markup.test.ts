import { createElement } from "react";
import { renderToStaticMarkup } from "react-dom/server";
import { describe, expect, it } from "vitest";
import { Button } from "@/app/_ui/Button";
import { NumberInput, Select } from "@/app/_ui/Field";
import { Notice } from "@/app/_ui/Notice";
import { isCurrent, PLACES, placesFor, type Role, thumbPlaces } from "@/app/_ui/nav";
import { ProblemList } from "@/app/_ui/ProblemList";
import { ProgressBar } from "@/app/_ui/ProgressBar";
import { CAUTION } from "@/app/_ui/Shell";
import { StateMark } from "@/app/_ui/StateMark";
import { STATES } from "@/app/_ui/states";
import { FACTOR_LOOK, lookOf } from "@/app/_ui/weather/factors";
import { WeatherKey } from "@/app/_ui/weather/WeatherKey";
import { phrase } from "@/lib/phrase";
import { sentences } from "@/lib/result";
import { LIMITING_FACTORS } from "@/lib/weather";

const ROLES: readonly Role[] = ["administrator", "manager", "logistics", "crew lead"];

describe("states", () => {
  it("each have a sign and a word of their own: colour never stands alone", () => {
    const looks = Object.values(STATES).map((look) => `${look.glyph} ${look.word}`);
    expect(new Set(looks).size).toBe(looks.length);
    const words = Object.values(STATES).map((look) => look.word);
    expect(new Set(words).size).toBe(words.length);
  });
  it("show the word beside a sign that is silent", () => {
    const html = renderToStaticMarkup(createElement(StateMark, { state: "late" }, "9 days late"));
    expect(html).toContain("9 days late");
    expect(html).toContain('aria-hidden="true"');
  });
});

describe("weather fills", () => {
  it("give every limiting figure a letter of its own", () => {
    const letters = LIMITING_FACTORS.filter((f) => f !== "none").map((f) => FACTOR_LOOK[f].letter);
    expect(letters.every((letter) => letter.length === 1)).toBe(true);
    expect(new Set(letters).size).toBe(letters.length);
  });
  it("never say that anything is safe", () => {
    const met = lookOf({ workable: true, factor: "wind", text: "" });
    expect(met).toEqual({ letter: "", look: "met", words: "planning limits met" });
    expect(renderToStaticMarkup(createElement(WeatherKey, {}))).toContain("the crew on site decides");
    expect(CAUTION).toContain("never that it is safe to climb");
  });
});

describe("form parts", () => {
  it("tie label, hint and error to the control", () => {
    const html = renderToStaticMarkup(
      createElement(NumberInput, {
        label: "Height",
        unit: "m",
        hint: "Above ground",
        error: "Give a number",
        name: "h",
      }),
    );
    const id = /<input[^>]* id="([^"]+)"/.exec(html)?.[1];
    expect(id).toBeDefined();
    expect(html).toContain(`for="${id}"`);
    expect(html).toContain(`aria-describedby="${id}-hint ${id}-error"`);
    expect(html).toContain('aria-invalid="true"');
    expect(html).toContain('step="any"');
  });
  it("offer an empty first choice only when it is named", () => {
    const choices = [{ value: "a", label: "A" }];
    expect(renderToStaticMarkup(createElement(Select, { label: "X", choices }))).not.toContain('value=""');
    expect(renderToStaticMarkup(createElement(Select, { label: "X", choices, empty: "Any" }))).toContain(
      'value=""',
    );
  });
  it("never submit a form by accident", () => {
    expect(renderToStaticMarkup(createElement(Button, null, "Go"))).toContain('type="button"');
  });
});

describe("messages", () => {
  it("interrupt only for problems, and only when asked", () => {
    expect(renderToStaticMarkup(createElement(Notice, { kind: "problem", announce: true }))).toContain(
      'role="alert"',
    );
    expect(renderToStaticMarkup(createElement(Notice, { kind: "good", announce: true }))).toContain(
      'role="status"',
    );
    expect(renderToStaticMarkup(createElement(Notice, { kind: "problem" }))).not.toContain('role="alert"');
  });
  it("list a problem with file, row, field, value, fault and remedy", () => {
    const html = renderToStaticMarkup(
      createElement(ProblemList, {
        problems: [
          {
            file: "sites.csv",
            row: 14,
            path: "heightM",
            rule: "mount-above-structure",
            value: 62,
            message: "The mount is above the structure.",
            remedy: "Give at most 45 m.",
          },
        ],
      }),
    );
    for (const part of ["sites.csv", "14", "heightM", "62", "above the structure", "at most 45 m"]) {
      expect(html).toContain(part);
    }
  });
  it("say what is wrong with a field by its label, where there is one", () => {
    const told = sentences(phrase("{{field}} is empty.", { field: "source" }), phrase("Give a text."));
    const shown = (nameOf?: (path: string) => string) =>
      renderToStaticMarkup(
        createElement(ProblemList, { nameOf, problems: [{ path: "source", rule: "empty", ...told }] }),
      );
    expect(shown(() => "Where from")).toContain(">Where from is empty.<");
    expect(shown()).toContain(">source is empty.<");
  });
  it("show no list without a problem", () => {
    expect(renderToStaticMarkup(createElement(ProblemList, { problems: [] }))).toBe("");
  });
  it("say how far long work is, and say nothing false when that is unknown", () => {
    expect(renderToStaticMarkup(createElement(ProgressBar, { label: "Solve", share: 0.42 }))).toContain(
      'aria-valuenow="42"',
    );
    expect(renderToStaticMarkup(createElement(ProgressBar, { label: "Solve" }))).not.toContain(
      "aria-valuenow",
    );
    expect(renderToStaticMarkup(createElement(ProgressBar, { label: "Solve", share: 1.7 }))).toContain(
      'aria-valuenow="100"',
    );
  });
});

describe("navigation", () => {
  it("gives each role its places once, at most four at the thumb", () => {
    for (const role of ROLES) {
      const { first, rest } = thumbPlaces({ role, isLimited: false });
      expect(first.length).toBeLessThanOrEqual(4);
      expect([...first, ...rest].map((p) => p.href).sort()).toEqual(
        placesFor({ role, isLimited: false })
          .map((p) => p.href)
          .sort(),
      );
    }
    expect(thumbPlaces({ role: "crew lead", isLimited: false }).first[0]?.href).toBe("/week");
  });
  it("marks a place also on the pages below it, but not on a neighbour with the same beginning", () => {
    const stock = PLACES.find((p) => p.href === "/stock")!;
    expect(isCurrent(stock, "/stock/drums")).toBe(true);
    expect(isCurrent(stock, "/stock")).toBe(true);
    expect(isCurrent(stock, "/stockroom")).toBe(false);
  });
});
