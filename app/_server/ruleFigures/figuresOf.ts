/** The figures of each kind of rule data, one by one, as they stand in a body. */
import type { PolicyKind } from "@/db/schema";
import { type AcceptanceLimits, DEFAULT_ACCEPTANCE_LIMITS } from "@/lib/acceptance";
import { type CutPolicy, DEFAULT_CUT_POLICY } from "@/lib/drums";
import { DEFAULT_NORMS, type HourNorms } from "@/lib/hours";
import { DEFAULT_WEIGHTS, type PlanWeights } from "@/lib/schedule";
import { DEFAULT_STOCK_POLICY, type StockPolicy } from "@/lib/stock";
import { DEFAULT_POLICY, fullPolicy, type TakeoffPolicy } from "@/lib/takeoff";
import { DEFAULT_WEATHER_POLICY, type WeatherPolicy } from "@/lib/weather";
import { ACCEPTANCE } from "./acceptanceFigures";
import type { FigureGroup, FigureValue, SpecGroup } from "./figure";
import { normGroups } from "./hourFigures";
import { CUTTING, WEIGHTS } from "./planFigures";
import { STOCK_GROUPS } from "./stockFigures";
import { takeoffGroups } from "./takeoffFigures";
import { weatherGroups } from "./weatherFigures";

type Bodies = {
  "takeoff policy": TakeoffPolicy;
  "weather limits": WeatherPolicy;
  "hour norms": HourNorms;
  "plan weights": PlanWeights;
  cutting: CutPolicy;
  stock: StockPolicy;
  "acceptance limits": AcceptanceLimits;
};

const DELIVERED: Bodies = {
  "takeoff policy": DEFAULT_POLICY,
  "weather limits": DEFAULT_WEATHER_POLICY,
  "hour norms": DEFAULT_NORMS,
  "plan weights": DEFAULT_WEIGHTS,
  cutting: DEFAULT_CUT_POLICY,
  stock: DEFAULT_STOCK_POLICY,
  "acceptance limits": DEFAULT_ACCEPTANCE_LIMITS,
};

export type FigureKind = keyof Bodies;

export const isFigureKind = (kind: PolicyKind): kind is FigureKind => Object.hasOwn(DELIVERED, kind);

/** What the product is delivered with. */
export const deliveredBody = <K extends FigureKind>(kind: K): Bodies[K] => DELIVERED[kind];

/** The value at a dotted path; undefined when there is none. */
export function valueAt(body: unknown, path: string): unknown {
  return path
    .split(".")
    .reduce<unknown>(
      (at, key) =>
        typeof at === "object" && at !== null && Object.hasOwn(at, key)
          ? (at as Record<string, unknown>)[key]
          : undefined,
      body,
    );
}

/** All figures of a kind, in groups, as they stand in `body`. */
export function figuresOf(kind: FigureKind, body: unknown): FigureGroup[] {
  const delivered = DELIVERED[kind];
  const full = fullBody(kind, body);
  return groupsOf(kind, full).map(({ figures, ...group }) => ({
    ...group,
    figures: figures.map((f) => {
      const asDelivered = (valueAt(delivered, f.path) ?? null) as FigureValue;
      return {
        kind: "number" as const,
        ...f,
        value: (valueAt(full, f.path) ?? null) as FigureValue,
        delivered: asDelivered,
        source: asDelivered === null ? "delivered without such a limit" : f.source,
      };
    }),
  }));
}

/** A version that was stored before a figure existed takes the figure's default. */
export function fullBody(kind: FigureKind, body: unknown): unknown {
  if (kind === "takeoff policy") return fullPolicy(body as TakeoffPolicy);
  return kind === "stock" ? { ...DEFAULT_STOCK_POLICY, ...(body as Partial<StockPolicy>) } : body;
}

function groupsOf(kind: FigureKind, body: unknown): readonly SpecGroup[] {
  switch (kind) {
    case "takeoff policy":
      return takeoffGroups();
    case "weather limits":
      return weatherGroups();
    case "hour norms":
      return normGroups(body as HourNorms);
    case "plan weights":
      return [{ id: "weights", title: "Plan weights", figures: WEIGHTS }];
    case "cutting":
      return [{ id: "cutting", title: "Cutting policy", figures: CUTTING }];
    case "stock":
      return STOCK_GROUPS;
    case "acceptance limits":
      return [{ id: "acceptance", title: "Acceptance limits", figures: ACCEPTANCE }];
  }
}
