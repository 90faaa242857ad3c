import { expect, test } from "vitest";
import { type Crew, compositionOn, crewDays, skillsOn, visitsMissingPeople, whoGoes } from "@/lib/programme";
import { addDays, type CalendarDate, calendarDate } from "@/lib/time";

const monday = calendarDate("2026-03-02");

function crew(over: Partial<Crew> = {}): Crew {
  return {
    code: "A",
    name: "A",
    depotPlace: "W",
    zone: "UTC",
    weekdays: [1, 2, 3, 4, 5],
    shiftFromMin: 420,
    shiftToMin: 1020,
    overtimeMaxMin: 0,
    weeklyMaxMin: 3000,
    restMin: 660,
    nightsAwayMax: 0,
    payloadKg: 500,
    pace: 1,
    members: [
      {
        code: "A-1",
        name: "Lead",
        isLead: true,
        skills: [{ skill: "climber" }, { skill: "rescue", validUntil: calendarDate("2026-03-03") }],
        leave: [],
      },
      {
        code: "A-2",
        name: "Second",
        isLead: false,
        skills: [{ skill: "climber" }, { skill: "ground" }],
        leave: [{ fromOn: calendarDate("2026-03-04"), toOn: calendarDate("2026-03-04"), reason: "leave" }],
      },
    ],
    ...over,
  };
}

test("a certificate counts on its last day and not on the day after", () => {
  const [lead] = crew().members;
  expect(skillsOn(lead!, calendarDate("2026-03-03"))).toContain("rescue");
  expect(skillsOn(lead!, calendarDate("2026-03-04"))).not.toContain("rescue");
});

test("leave takes a person out on its first and last day", () => {
  expect(compositionOn(crew(), calendarDate("2026-03-03")).people).toHaveLength(2);
  expect(compositionOn(crew(), calendarDate("2026-03-04")).people).toHaveLength(1);
  expect(compositionOn(crew(), calendarDate("2026-03-05")).people).toHaveLength(2);
});

test("days of a week: counts by skill, nobody on days off", () => {
  const days = crewDays(crew(), monday, 7);
  expect(days.map((d) => d?.climbers ?? 0)).toEqual([2, 2, 1, 2, 2, 0, 0]);
  expect(days.map((d) => d?.rescuers ?? 0)).toEqual([1, 1, 0, 0, 0, 0, 0]);
  expect(days[5]).toBeNull();
  expect(days[0]).toMatchObject({ fromMin: 420, toMin: 1020, people: 2 });
});

test("a day on which everybody is away is no working day", () => {
  const away = [{ fromOn: monday, toOn: monday, reason: "leave" }];
  const c = crew();
  const days = crewDays({ ...c, members: c.members.map((m) => ({ ...m, leave: away })) }, monday, 2);
  expect(days[0]).toBeNull();
  expect(days[1]).not.toBeNull();
});

test("who is on leave does not go, and leave that goes on the next day is one", () => {
  const spell = (fromOn: string, toOn: string) => ({
    fromOn: calendarDate(fromOn),
    toOn: calendarDate(toOn),
    reason: "holiday",
  });
  const [lead, second] = crew().members;
  const members = [
    lead!,
    { ...second!, leave: [spell("2026-03-07", "2026-03-10"), spell("2026-03-04", "2026-03-06")] },
  ];
  const names = (on: string, until = on) => {
    const { going, away } = whoGoes(members, calendarDate(on), calendarDate(until));
    return [going.map((m) => m.name), away.map((a) => `${a.member.name} ${a.fromOn} ${a.untilOn}`)];
  };
  expect(names("2026-03-03")).toEqual([["Lead", "Second"], []]);
  expect(names("2026-03-10")).toEqual([["Lead"], ["Second 2026-03-04 2026-03-10"]]);
  expect(names("2026-03-11")).toEqual([["Lead", "Second"], []]);
  // Leave that begins during the days asked for is named, and who has it still goes.
  expect(names("2026-03-03", "2026-03-05")).toEqual([["Lead", "Second"], ["Second 2026-03-04 2026-03-10"]]);
});

test("visits that miss people are found, by leave or certificate, with what the crew that is left lacks by the planner's rule", () => {
  const wednesday = addDays(monday, 2);
  const needs = { climbers: 1, rescuers: 0, riggers: 0, technicians: 0, people: 1 };
  const found = (
    startOn: CalendarDate,
    endOn: CalendarDate,
    need = needs,
    today = monday,
    over: Partial<Crew> = {},
  ) =>
    visitsMissingPeople([{ crewCode: "A", startOn, endOn }], [crew(over)], today, () => need).map((v) => [
      v.on,
      v.away.map((m) => m.name).join(),
      v.short,
    ]);
  expect(found(monday, addDays(monday, 1))).toEqual([]);
  // Nobody is away, but the crew's one rescuer is so until Tuesday only.
  expect(found(addDays(monday, 1), addDays(monday, 3), { ...needs, rescuers: 1 })).toEqual([
    [wednesday, "Second", "1 rescuer"],
  ]);
  expect(found(addDays(monday, 3), addDays(monday, 3), { ...needs, rescuers: 1 })).toEqual([
    [addDays(monday, 3), "", "1 rescuer"],
  ]);
  expect(found(monday, wednesday)).toEqual([[wednesday, "Second", ""]]);
  expect(found(wednesday, wednesday, { ...needs, climbers: 2, people: 2 })).toEqual([
    [wednesday, "Second", "1 climber and 1 person"],
  ]);
  // What is over, and a day on which the crew does not work, miss nobody.
  expect(found(monday, wednesday, needs, addDays(monday, 3))).toEqual([]);
  expect(found(wednesday, wednesday, needs, monday, { weekdays: [1, 2] })).toEqual([]);
  expect(
    visitsMissingPeople(
      [{ crewCode: "A", startOn: wednesday, endOn: wednesday }],
      [crew()],
      monday,
      () => undefined,
    )[0]?.short,
  ).toBe("");
});
