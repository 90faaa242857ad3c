import { describe, expect, test } from "vitest";
import {
  type CausingVisit,
  type Crew,
  causesAtVisit,
  crewGap,
  crewLimit,
  endingCertificate,
  type HopToExplain,
  promiseCauses,
} from "@/lib/programme";
import type { CalendarDate } from "@/lib/time";

const TODAY = "2026-03-16" as CalendarDate;
const on = (date: string) => date as CalendarDate;
const FOLLOWED = { asOf: TODAY, followedTo: on("2026-08-01") };
const NEEDS = { climbers: 2, rescuers: 1, riggers: 0, technicians: 0, people: 2 };

const crew = {
  code: "C3",
  weekdays: [1, 2, 3, 4, 5, 6, 7],
  members: [
    {
      code: "C3-1",
      name: "A",
      isLead: true,
      leave: [],
      skills: [{ skill: "climber" }, { skill: "rescue", validUntil: on("2026-04-10") }],
    },
    {
      code: "C3-2",
      name: "B",
      isLead: false,
      leave: [],
      skills: [
        { skill: "climber", validUntil: on("2026-09-01") },
        { skill: "rescue", validUntil: on("2026-05-20") },
      ],
    },
  ],
} as unknown as Crew;
const crews = new Map([["C3", crew]]);

const visit = (over: Partial<CausingVisit> = {}): CausingVisit => ({
  visitId: "H1/near/install",
  side: "near",
  kind: "install",
  crewCode: "C3",
  startOn: on("2026-04-20"),
  endOn: on("2026-04-20"),
  kitReadyOn: null,
  ...over,
});

/** As runs from today on keep it that this crew does the visit of 20 Apr. */
const standIn = (share: number, by = crew) => ({
  crewCode: "C3",
  share,
  limit: crewLimit(by, NEEDS, visit(), FOLLOWED),
});
const causesOf = (v: Partial<CausingVisit>, by = crew) =>
  promiseCauses(hop({}, [visit(v)]), new Map([["C3", by]]), TODAY, FOLLOWED);
const withSkills = (at: number, skills: Crew["members"][number]["skills"]): Crew => ({
  ...crew,
  members: crew.members.map((m, i) => (i === at ? { ...m, skills } : m)),
});

const hop = (
  progress: Partial<HopToExplain["progress"]>,
  visits: readonly CausingVisit[] = [visit()],
  gates: HopToExplain["gates"] = [],
): HopToExplain => ({
  progress: {
    hopCode: "H1",
    state: "at risk",
    promisedOn: on("2026-04-24"),
    plannedOn: on("2026-04-24"),
    ...progress,
  },
  visits,
  gates,
});

describe("endingCertificate", () => {
  test("is the one whose end leaves too few, not the first that ends", () => {
    // A's rescue ends first, but B's still stands: with B's the last one goes.
    expect(endingCertificate(crew, NEEDS, on("2026-04-01"), on("2027-01-01"))).toEqual({
      memberName: "B",
      skill: "rescue",
      endsOn: "2026-05-20",
    });
  });

  test("is none when the work does not need the skill", () => {
    const needs = { ...NEEDS, rescuers: 0, climbers: 1 };
    expect(endingCertificate(crew, needs, on("2026-04-01"), on("2026-09-01"))).toBeUndefined();
    expect(
      endingCertificate(crew, { ...needs, climbers: 2 }, on("2026-04-01"), on("2026-09-02")),
    ).toMatchObject({
      skill: "climber",
    });
  });
});

describe("promiseCauses", () => {
  test("names whose certificate ends when a visit slips past its crew's people", () => {
    const causes = causesOf({ standIn: standIn(0.98) });
    expect(causes.map((c) => c.kind)).toEqual(["certificate", "slack"]);
    expect(causes[0]).toMatchObject({ share: 0.98, certificate: { memberName: "B", endsOn: "2026-05-20" } });
    expect(causes[1]).toMatchObject({ days: 0 });
  });

  test("gives a share of old runs to no other certificate of the same person", () => {
    // B's rescue, that the runs knew, is taken away: B's climbing, which ends later, has no part in their share.
    const without = withSkills(1, [{ skill: "climber", validUntil: on("2026-09-01") }]);
    const kinds = causesOf({ standIn: standIn(0.98) }, without).map((c) => c.kind);
    expect(kinds).toEqual(["people changed", "slack"]);
    // The same for one that was renewed, and for a crew that the runs did not reckon with.
    const renewed = withSkills(1, [{ skill: "climber" }, { skill: "rescue", validUntil: on("2026-06-20") }]);
    expect(causesOf({ standIn: standIn(0.98) }, renewed)[0]).toMatchObject({ kind: "people changed" });
    expect(causesOf({ standIn: { ...standIn(0.98), crewCode: "C4" } })[0]).toMatchObject({
      kind: "people changed",
    });
  });

  test("says what lacks on the planned day when the crew does not suffice even then", () => {
    const without = { ...crew, members: crew.members.map((m) => ({ ...m, skills: m.skills.slice(0, 1) })) };
    expect(crewLimit(without, NEEDS, visit(), FOLLOWED)).toEqual({
      needs: NEEDS,
      staffedUntil: undefined,
      short: "1 rescuer",
      certificate: undefined,
    });
    expect(causesOf({ standIn: standIn(1, without) }, without)[0]).toMatchObject({
      kind: "short",
      short: "1 rescuer",
    });
  });

  test("names the visit, of whatever hop, that is not done before its crew's leave, while that leave stands", () => {
    const away = (fromOn: string) => ({
      ...crew,
      members: crew.members.map((m) => ({
        ...m,
        leave: [{ fromOn: on(fromOn), toOn: on("2026-05-10"), reason: "holiday" }],
      })),
    });
    const early = { needs: { ...NEEDS, rescuers: 0 }, startOn: on("2026-04-20"), endOn: on("2026-04-20") };
    const gap = crewGap(away("2026-04-22"), early.needs, early, FOLLOWED)!;
    expect(gap).toEqual({ needs: early.needs, fromOn: "2026-04-22", toOn: "2026-05-10", isLeave: true });
    const other = visit({ visitId: "H2/far/alignment", kind: "alignment" });
    const hops = ["H2", "H1", "H3"].map((of) => ({ of, share: of === "H3" ? 0.06 : 0.2 }));
    const slip = { visitId: other.visitId, crewCode: "C3", share: 0.23, gap, hops };
    const named = (code: string, by: Crew) => {
      const told = hop({ hopCode: code });
      const withSlips = { ...told, slips: [{ visit: other, slip }] };
      return promiseCauses(withSlips, new Map([["C3", by]]), TODAY, FOLLOWED)[0];
    };
    const cause = { kind: "crew away", visit: { visitId: other.visitId }, share: 0.23, hops: 2 };
    expect(named("H1", away("2026-04-22"))).toMatchObject(cause);
    expect(named("H2", away("2026-04-22"))).toMatchObject(cause);
    expect(named("H4", away("2026-04-22"))).toMatchObject({ kind: "slack" });
    // The leave was moved or taken back since: the share of those runs is of another leave.
    expect(named("H1", away("2026-04-25"))).toMatchObject({ kind: "people changed", visit: other });
    expect(named("H1", crew)).toMatchObject({ kind: "people changed" });
  });

  test("says that people lack when no certificate tells why, and passes over rare slips", () => {
    const unknown = { standIn: { crewCode: "C3", share: 0.4 } };
    expect(causesOf(unknown)[0]).toMatchObject({ kind: "people", share: 0.4 });
    expect(causesOf({ standIn: standIn(0.01) }).map((c) => c.kind)).toEqual(["slack"]);
  });

  test("says that a promise has passed and which reading failed, once for both ends", () => {
    const failed = "receive level";
    const revisits = (["near", "far"] as const).map((side) =>
      visit({ visitId: `H1/${side}/revisit`, side, kind: "revisit", failed }),
    );
    const late = hop({ state: "late", promisedOn: on("2026-03-10"), daysLate: 45 }, revisits);
    const causes = promiseCauses(late, crews, TODAY);
    expect(causes).toMatchObject([
      { kind: "promise past", on: "2026-03-10" },
      { kind: "revisit", failed, visit: { side: "near" } },
    ]);
  });

  test("names the gate or the kit that a visit begins right after", () => {
    const gate = {
      hopId: "H1",
      kind: "site ready" as const,
      owner: "o",
      state: "dated" as const,
      dueOn: on("2026-04-17"),
    };
    const late = { state: "late" as const, promisedOn: on("2026-04-01"), daysLate: 23 };
    expect(promiseCauses(hop(late, [visit()], [gate]), crews, TODAY)).toMatchObject([
      { kind: "gate", opensOn: "2026-04-17" },
    ]);
    const other = { ...gate, side: "far" as const };
    const waitsForKit = visit({ kitReadyOn: on("2026-04-16") });
    expect(promiseCauses(hop(late, [waitsForKit], [other]), crews, TODAY)).toMatchObject([
      { kind: "kit", readyOn: "2026-04-16" },
    ]);
    const longWhole = visit({ kitReadyOn: on("2026-03-20") });
    expect(promiseCauses(hop(late, [longWhole]), crews, TODAY)).toEqual([{ kind: "other work" }]);
  });

  test("names what the visit that ends last waits for, not the first visit's wait", () => {
    const gate = {
      hopId: "H1",
      side: "far" as const,
      kind: "site ready" as const,
      owner: "o",
      state: "dated" as const,
      dueOn: on("2026-04-20"),
    };
    const near = visit({
      startOn: on("2026-04-10"),
      endOn: on("2026-04-10"),
      kitReadyOn: on("2026-04-09"),
    });
    const far = visit({ visitId: "H1/far/install", side: "far", kitReadyOn: on("2026-04-16") });
    const waits = promiseCauses(hop({}, [near, far], [gate]), crews, TODAY).filter((c) => c.kind !== "slack");
    expect(waits).toMatchObject([{ kind: "gate", opensOn: "2026-04-20", visit: { side: "far" } }]);
    // The later of gate and kit binds the visit.
    const earlier = { ...gate, dueOn: on("2026-04-15") };
    expect(promiseCauses(hop({}, [near, far], [earlier]), crews, TODAY)[0]).toMatchObject({
      kind: "kit",
      readyOn: "2026-04-16",
    });
  });

  test("tells a gate that opens after the visit is planned, whatever the hop's state, and no wait that ends before it opens", () => {
    const gate = {
      hopId: "H1",
      kind: "site ready" as const,
      owner: "o",
      state: "dated" as const,
      dueOn: on("2026-04-22"),
    };
    const shutGates = [{ gate, visits: [{ visitId: "H1/near/install", startOn: on("2026-04-20") }] }];
    const waiting = visit({ kitReadyOn: on("2026-04-16") });
    const causes = (progress: Partial<HopToExplain["progress"]>) =>
      promiseCauses(hop({ ...progress, shutGates }, [waiting], [gate]), crews, TODAY);
    const told = [{ kind: "shut gate", gate: { dueOn: "2026-04-22" }, visits: [{ startOn: "2026-04-20" }] }];
    expect(causes({})).toMatchObject(told);
    expect(causes({})).toHaveLength(1);
    expect(causes({ state: "at risk", promisedOn: undefined })).toMatchObject(told);
    expect(causes({ state: "held" })).toMatchObject(told);
    expect(causes({ state: "late", promisedOn: on("2026-03-10") }).map((c) => c.kind)).toEqual([
      "promise past",
      "shut gate",
    ]);
  });

  test("names every visit that a gate holds, and at one of them that one", () => {
    const gate = { hopId: "H1", kind: "survey" as const, owner: "o", state: "open" as const };
    const [near, far] = (["near", "far"] as const).map((side) =>
      visit({ visitId: `H1/${side}/install`, side, startOn: on("2026-04-17") }),
    );
    const held = [near!, far!].map(({ visitId }) => ({ visitId, startOn: on("2026-04-17") }));
    const progress = { state: "at risk" as const, shutGates: [{ gate, visits: held }] };
    const causes = promiseCauses(hop(progress, [near!, far!], [gate]), crews, TODAY);
    expect(causes).toMatchObject([{ kind: "shut gate", visits: [{ side: "near" }, { side: "far" }] }]);
    expect(causesAtVisit(causes, "H1/far/install")).toMatchObject([{ visits: [{ side: "far" }] }]);
    // A visit that the gate leaves alone: its hop's, all the same.
    expect(causesAtVisit(causes, "H1/near/alignment")).toEqual(causes);
  });

  test("has nothing to say of a hop on promise or without one", () => {
    expect(promiseCauses(hop({ state: "on promise" }), crews, TODAY)).toEqual([]);
    expect(promiseCauses(hop({ promisedOn: undefined }), crews, TODAY)).toEqual([]);
  });
});
