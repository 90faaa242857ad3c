/** Five invented crews with members, certificates and leave, two warehouses, a vehicle each. */
import { destination } from "@/lib/geo";
import type { Skill } from "@/lib/hours";
import type { Crew, CrewMember } from "@/lib/programme";
import { addDays, type CalendarDate } from "@/lib/time";
import { ISLAND_CENTRE, ZONE } from "./vellmark";

const EAST = destination(ISLAND_CENTRE, 80, 24);
const WEST = destination(ISLAND_CENTRE, 255, 22);

export const DEMO_PLACES = [
  { code: "WH-EAST", name: "Sallow Quay warehouse", kind: "warehouse" as const, ...EAST },
  { code: "WH-WEST", name: "Brackenhead warehouse", kind: "warehouse" as const, ...WEST },
  ...[1, 2, 3, 4, 5].map((n) => ({
    code: `VAN-${n}`,
    name: `Vehicle of crew ${n}`,
    kind: "vehicle" as const,
    latDeg: null,
    lonDeg: null,
  })),
];

type Person = [name: string, isLead: boolean, skills: Skill[]];

const PEOPLE: Record<string, Person[]> = {
  C1: [
    ["Jonah Petrenko", true, ["climber", "rescue", "rigger", "technician"]],
    ["Mila Harrowgate", false, ["climber", "rescue", "ground"]],
    ["Tomas Eklundh", false, ["climber", "ground"]],
    ["Odile Farrant", false, ["ground", "technician"]],
  ],
  C2: [
    ["Greta Holmwood", true, ["climber", "rescue", "technician"]],
    ["Ilias Brandt-Moor", false, ["climber", "rescue", "rigger"]],
    ["Piet Swanney", false, ["climber", "ground"]],
    ["Nora Quillan", false, ["ground"]],
  ],
  C3: [
    ["Rufus Ardley", true, ["climber", "technician", "rigger"]],
    ["Senna Vark", false, ["climber", "rescue"]],
    ["Bo Lindqvarn", false, ["climber", "ground"]],
    ["Yusra Denholm", false, ["ground", "technician"]],
  ],
  C4: [
    ["Hettie Crowmarsh", true, ["climber", "rescue", "technician"]],
    ["Karol Winterbee", false, ["climber", "rescue", "rigger"]],
    ["Dara Fenwright", false, ["climber", "ground"]],
    ["Emre Tallis", false, ["ground"]],
  ],
  C5: [
    ["Wanda Ostrey", true, ["climber", "rescue", "technician"]],
    ["Lars Munk-Abel", false, ["climber", "rescue"]],
    ["Fionn Garside", false, ["ground"]],
  ],
};

/** Certificates: rescue and climbing expire; crew 3's only rescue certificate runs out a month into the plan. */
function member(
  code: string,
  person: Person,
  today: CalendarDate,
  crewCode: string,
  index: number,
): CrewMember {
  const [name, isLead, skills] = person;
  return {
    code,
    name,
    isLead,
    skills: skills.map((skill) => {
      if (skill === "rescue" && crewCode === "C3") return { skill, validUntil: addDays(today, 31) };
      if (skill === "rescue" || skill === "climber") {
        return { skill, validUntil: addDays(today, 240 + index * 31 + Number(crewCode[1]) * 17) };
      }
      return { skill };
    }),
    leave: leaveOf(name, today),
  };
}

function leaveOf(name: string, today: CalendarDate): CrewMember["leave"] {
  if (name === "Tomas Eklundh")
    return [{ fromOn: addDays(today, 14), toOn: addDays(today, 20), reason: "annual leave" }];
  if (name === "Karol Winterbee")
    return [{ fromOn: addDays(today, 28), toOn: addDays(today, 31), reason: "annual leave" }];
  if (name === "Greta Holmwood")
    return [{ fromOn: addDays(today, 42), toOn: addDays(today, 46), reason: "training" }];
  return [];
}

export function demoCrews(today: CalendarDate): Crew[] {
  return Object.entries(PEOPLE).map(([code, people], i) => ({
    code,
    name: ["Heron", "Plover", "Curlew", "Dunlin", "Osprey"][i]!,
    depotPlace: i % 2 === 0 ? "WH-EAST" : "WH-WEST",
    vehiclePlace: `VAN-${i + 1}`,
    zone: ZONE,
    weekdays: [1, 2, 3, 4, 5],
    shiftFromMin: 7 * 60,
    shiftToMin: 17 * 60,
    overtimeMaxMin: 60,
    weeklyMaxMin: 48 * 60,
    restMin: 11 * 60,
    nightsAwayMax: i < 2 ? 2 : 0,
    payloadKg: i === 4 ? 650 : 900,
    pace: [1, 0.97, 1.05, 1, 1.08][i]!,
    members: people.map((p, n) => member(`${code}-${n + 1}`, p, today, code, n)),
  }));
}
