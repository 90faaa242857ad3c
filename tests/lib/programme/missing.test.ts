import { describe, expect, test } from "vitest";
import { missingForPlan } from "@/lib/programme";
import { Random } from "@/lib/random";
import { DEFAULT_CATALOGUE } from "@/lib/takeoff";
import { calendarDate } from "@/lib/time";
import { makeHops, makeSites } from "@/seed/vellmark";

const sites = makeSites(new Random("sites"), 30);
const [made] = makeHops(new Random("hops"), sites, DEFAULT_CATALOGUE, calendarDate("2026-03-16"), 3);
const hop = { ...made!, gates: [] };
const position = () => ({ latDeg: 47, lonDeg: 8 });

describe("what a hop lacks for a plan", () => {
  test("is nothing when both ends stand on known places with their radios, and no gate is open", () => {
    const gate = { hopId: hop.id, kind: "supply", owner: "", state: "dated", dueOn: "2027-01-01" } as const;
    expect(missingForPlan({ ...hop, gates: [gate as never] }, position)).toEqual([]);
  });

  test("is a site, a coordinate, what hangs there, and a date", () => {
    const gate = { hopId: hop.id, kind: "supply", owner: "grid company", state: "open" } as const;
    const near = { ...hop.near, siteId: "HERE", antennas: [], odus: [] };
    const missing = missingForPlan({ near, gates: [gate] }, (site) =>
      site === "HERE" ? undefined : position(),
    );
    expect(missing).toEqual([
      { kind: "coordinate", siteCode: "HERE" },
      { kind: "antenna", side: "near" },
      { kind: "radio", side: "near" },
      { kind: "site", side: "far" },
      { kind: "gate", gate },
    ]);
  });
});
