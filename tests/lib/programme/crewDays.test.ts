import { expect, test } from "vitest";
import { type Crew, compositionOn, crewDays, skillsOn } from "@/lib/programme";
import { calendarDate } from "@/lib/time";

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
