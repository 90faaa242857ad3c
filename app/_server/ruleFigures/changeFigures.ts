/** Changing figures of rule data: what each may be, and what must stand in order. */
import { CLASS_WORDS } from "@/app/_ui/weather/factors";
import type { HourNorms, ThreePoint } from "@/lib/hours";
import { type Phrase, phrase } from "@/lib/phrase";
import { ok, type Problem, problem, type Result, refused, sentences } from "@/lib/result";
import { POLICY_FIGURES, parsePolicy, type TakeoffPolicy } from "@/lib/takeoff";
import { type WeatherPolicy, WORK_CLASSES } from "@/lib/weather";
import type { Figure, FigureGroup, FigureValue } from "./figure";
import { type FigureKind, figuresOf, fullBody, valueAt } from "./figuresOf";

function problemOf(group: FigureGroup, f: Figure, value: FigureValue): Problem | undefined {
  const of = (figure: number) => (f.unit ? `${figure} ${f.unit}` : String(figure));
  const is = (rule: string, message: Phrase, remedy: Phrase) =>
    problem(`${group.title}: ${f.label}`, rule, value ?? "", message, remedy);
  if (value === null)
    return f.isOptional
      ? undefined
      : is("figure-missing", phrase("A figure is missing."), phrase("Enter a figure."));
  if (f.kind === "yes/no")
    return typeof value === "boolean"
      ? undefined
      : is("figure-kind", phrase("Not yes or no."), phrase("Choose yes or no."));
  if (f.kind === "choice") {
    if (f.choices?.some((c) => c.value === value)) return undefined;
    const names = f.choices?.map((c) => c.label).join(" or ") ?? "";
    return is("figure-kind", phrase("Not one of the choices."), phrase("Choose {{names}}.", { names }));
  }
  if (typeof value !== "number" || !Number.isFinite(value))
    return is("figure-kind", phrase("Not a number."), phrase("Enter a number."));
  if (f.isWhole && !Number.isInteger(value))
    return is(
      "figure-whole",
      phrase("{{figure}} is not a whole number.", { figure: of(value) }),
      phrase("Enter a whole number."),
    );
  if (f.min !== undefined && value < f.min)
    return is(
      "figure-low",
      phrase("{{figure}} is below {{least}}.", { figure: of(value), least: of(f.min) }),
      phrase("Enter {{least}} or more.", { least: of(f.min) }),
    );
  if (f.max !== undefined && value > f.max)
    return is(
      "figure-high",
      phrase("{{figure}} is above {{most}}.", { figure: of(value), most: of(f.max) }),
      phrase("Enter {{most}} or less.", { most: of(f.max) }),
    );
  return undefined;
}

/** The body with the figures changed; refused with everything that is wrong with them. */
export function changeFigures(
  kind: FigureKind,
  body: unknown,
  changes: readonly { path: string; value: FigureValue }[],
): Result<unknown> {
  const groups = figuresOf(kind, body);
  const known = new Map(groups.flatMap((g) => g.figures.map((f) => [f.path, { g, f }] as const)));
  const problems: Problem[] = [];
  const changed = structuredClone(fullBody(kind, body)) as Record<string, unknown>;
  for (const { path, value } of changes) {
    const found = known.get(path);
    const problem = found
      ? problemOf(found.g, found.f, value)
      : {
          path,
          rule: "figure-unknown",
          value,
          ...sentences(
            phrase("There is no such figure."),
            phrase("Reload the page; another version may be in force."),
          ),
        };
    if (problem) problems.push(problem);
    else setAt(changed, path, value);
  }
  problems.push(...ordered(kind, changed));
  if (problems.length > 0) return refused(...problems);
  if (kind === "takeoff policy") return labelled(parsePolicy({ ...changed, version: 1 }));
  return ok(changed);
}

/** Field names as the screen says them. */
function labelled<T>(result: Result<T>): Result<T> {
  if (result.ok) return result;
  const names = POLICY_FIGURES as Record<string, { label: string } | undefined>;
  return refused(...result.problems.map((p) => ({ ...p, path: names[p.path]?.label ?? p.path })));
}

function setAt(body: Record<string, unknown>, path: string, value: FigureValue): void {
  const keys = path.split(".");
  const last = keys.pop()!;
  const at = keys.reduce<Record<string, unknown>>((o, k) => o[k] as Record<string, unknown>, body);
  if (value === null) delete at[last];
  else at[last] = value;
}

/** Figures that must stand in order among themselves. */
function ordered(kind: FigureKind, body: unknown): Problem[] {
  const problems: Problem[] = [];
  const note = (path: string, value: string, message: Phrase, remedy: Phrase) =>
    problems.push({ path, rule: "figure-order", value, ...sentences(message, remedy) });
  if (kind === "hour norms") {
    const points = figuresOf(kind, body).flatMap((g) =>
      g.figures.filter((f) => f.path.endsWith(".aMin")).map((f) => ({ g, f })),
    );
    for (const { g, f } of points) {
      const { aMin, mMin, bMin } = valueAt(body, f.path.slice(0, -5)) as ThreePoint;
      if (aMin <= mMin && mMin <= bMin) continue;
      note(
        `${g.title}: ${f.label.replace(/, optimistic$/, "")}`,
        `${aMin} / ${mMin} / ${bMin} min`,
        phrase("Optimistic, likely and pessimistic do not stand in order."),
        phrase("Enter figures that rise from optimistic to pessimistic."),
      );
    }
    const { smallDiameterM, largeDiameterM } = (body as HourNorms).alignment;
    if (smallDiameterM >= largeDiameterM)
      note(
        "Alignment figures: Large antenna, from",
        `${largeDiameterM} m`,
        phrase("It is not above the small antenna's {{least}} m.", { least: String(smallDiameterM) }),
        phrase("Enter more than {{least}} m.", { least: String(smallDiameterM) }),
      );
  }
  if (kind === "takeoff policy") {
    const p = body as TakeoffPolicy;
    if ((p.diversityMinM ?? 0) > (p.diversityMaxM ?? Number.POSITIVE_INFINITY))
      note(
        POLICY_FIGURES.diversityMaxM.label,
        `${p.diversityMaxM} m`,
        phrase("It is below the least height difference of {{least}} m.", { least: String(p.diversityMinM) }),
        phrase("Enter {{least}} or more.", { least: `${p.diversityMinM} m` }),
      );
  }
  if (kind === "weather limits") {
    for (const c of WORK_CLASSES) {
      const { tempMinC, tempMaxC } = (body as WeatherPolicy).limits[c];
      if (tempMinC !== undefined && tempMaxC !== undefined && tempMinC > tempMaxC)
        note(
          `${CLASS_WORDS[c]}: Temperature, at most`,
          `${tempMaxC} degC`,
          phrase("It is below the least temperature of {{least}} degC.", { least: String(tempMinC) }),
          phrase("Enter {{least}} or more.", { least: `${tempMinC} degC` }),
        );
    }
  }
  return problems;
}
