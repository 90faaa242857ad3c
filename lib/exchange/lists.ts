/** Lists that stand in one cell: weekdays, polarisations, skills with expiry, leave, cable route, minutes by task. */
import { partKeys, partName } from "@/lib/calibration";
import { DEFAULT_NORMS, SKILLS, type Skill } from "@/lib/hours";
import { type Polarisation, type RouteSegment, SEGMENT_KINDS, type SegmentKind } from "@/lib/site";
import { parseCalendarDate, type Weekday } from "@/lib/time";
import type { HeldSkill, Leave, TaskMinutes } from "./rows";
import type { ListForm } from "./types";

/** The list, or what is wrong with which part of it. */
export type ListReading =
  | { ok: true; value: readonly unknown[] }
  | { ok: false; part: string; expected: string; fault?: ListFault };

/** Why a part that is written as it should be cannot be meant. */
export type ListFault = { rule: "no-such-day"; day: string } | { rule: "ends-before-begin" };

/** The first of these that the calendar does not have. */
function noSuchDay(days: readonly (string | undefined)[]): { fault?: ListFault } {
  const day = days.find((d) => d !== undefined && !parseCalendarDate(d));
  return day === undefined ? {} : { fault: { rule: "no-such-day", day } };
}

interface ListCodec {
  read(text: string): ListReading;
  show(list: readonly never[]): string;
}

export function readList(form: ListForm, text: string): ListReading {
  return CODECS[form].read(text);
}

/** The list as exports write it; `readList` gives the same list back. */
export function showList(form: ListForm, list: readonly unknown[]): string {
  return CODECS[form].show(list as readonly never[]);
}

const DAYS = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];
const DAY_NAMES = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];
const LEAVE_PART = /^(\d{4}-\d{2}-\d{2})(?:\s*(?:\.\.|to\b|\u2013)\s*(\d{4}-\d{2}-\d{2}))?(?:\s+(.*))?$/is;
const SKILL_PART = /^([a-z]+)(?:\s+(?:until\s+)?(\d{4}-\d{2}-\d{2}))?$/i;
const ROUTE_PART = /^([a-z]+)\s+(\d+(?:\.\d+)?)\s*(?:m\b)?\s*(bend)?$/i;

const TASK_PART = /^(.+?)\s*[:=]?\s+(\d+(?:\.\d+)?)\s*(?:min)?$/i;

const CODECS: Readonly<Record<ListForm, ListCodec>> = {
  weekdays: {
    read: readWeekdays,
    show: (list: readonly Weekday[]) => list.map((d) => DAY_NAMES[d - 1]).join("; "),
  },
  polarisations: { read: readPolarisations, show: (list: readonly Polarisation[]) => list.join("; ") },
  skills: {
    read: readSkills,
    show: (list: readonly HeldSkill[]) =>
      inSkillOrder(list)
        .map((s) => (s.validUntil ? `${s.skill} until ${s.validUntil}` : s.skill))
        .join("; "),
  },
  leave: {
    read: readLeave,
    show: (list: readonly Leave[]) =>
      inDateOrder(list)
        .map(
          (l) => (l.fromOn === l.toOn ? l.fromOn : `${l.fromOn} to ${l.toOn}`) + (l.reason && ` ${l.reason}`),
        )
        .join("; "),
  },
  route: {
    read: readRoute,
    show: (list: readonly RouteSegment[]) =>
      list.map((s) => `${s.kind} ${s.lengthM}${s.bendAtEnd ? " bend" : ""}`).join("; "),
  },
  "task minutes": {
    read: readTaskMinutes,
    show: (list: readonly TaskMinutes[]) =>
      inTaskOrder(list)
        .map((t) => `${t.part} ${t.workedMin}`)
        .join("; "),
  },
};

function parts(text: string, separators: RegExp): string[] {
  return text
    .split(separators)
    .map((p) => p.trim())
    .filter((p) => p !== "");
}

/** Names, ISO numbers 1 (Monday) to 7, and spans such as `Mon-Fri`; given back in week order, each once. */
function readWeekdays(text: string): ListReading {
  const found = new Set<number>();
  for (const part of parts(text, /[;,]/)) {
    const span = part.split(/\s*[-\u2013]\s*/).map(dayOf);
    const [from, to] = [span[0], span.at(-1)];
    if (span.length > 2 || !from || !to)
      return { ok: false, part, expected: "days such as Mon; Tue or Mon-Fri" };
    for (let d = from; ; d = (d % 7) + 1) {
      found.add(d);
      if (d === to) break;
    }
  }
  return { ok: true, value: [...found].sort((a, b) => a - b) };
}

function dayOf(text: string): number | undefined {
  if (/^[1-7]$/.test(text)) return Number(text);
  const at = /^[a-z]{3,9}$/i.test(text) ? DAYS.indexOf(text.slice(0, 3).toLowerCase()) : -1;
  return at < 0 ? undefined : at + 1;
}

/** `V`, `H`, `V; H`, `V/H`, `VH`, `dual`; kept in the order V, H. */
function readPolarisations(text: string): ListReading {
  const t = text.trim().toLowerCase();
  const letters =
    t === "dual" || t === "vh" || t === "hv" || t === "v&h"
      ? ["v", "h"]
      : parts(t, /[;,/+|]/).map(polarisationOf);
  const wrong = letters.find((l) => l !== "v" && l !== "h");
  if (wrong !== undefined) return { ok: false, part: wrong, expected: "V, H or V; H" };
  return { ok: true, value: (["V", "H"] as const).filter((p) => letters.includes(p.toLowerCase())) };
}

const polarisationOf = (t: string) => (t === "vertical" ? "v" : t === "horizontal" ? "h" : t);

/** `climber until 2027-09-30; rescue; ground`: a skill, then the last day of its certificate if it expires. */
function readSkills(text: string): ListReading {
  const list: HeldSkill[] = [];
  for (const part of parts(text, /[;,/|]/)) {
    const m = SKILL_PART.exec(part);
    const skill = m?.[1]?.toLowerCase() as Skill | undefined;
    const validUntil = m?.[2] === undefined ? undefined : parseCalendarDate(m[2]);
    if (!skill || !SKILLS.includes(skill) || (m?.[2] !== undefined && !validUntil)) {
      return {
        ok: false,
        part,
        ...(skill && SKILLS.includes(skill) ? noSuchDay([m?.[2]]) : {}),
        expected: `skills such as climber until 2027-09-30; ground (${SKILLS.join(", ")})`,
      };
    }
    list.push(validUntil ? { skill, validUntil } : { skill });
  }
  return { ok: true, value: inSkillOrder(list) };
}

function inSkillOrder(list: readonly HeldSkill[]): HeldSkill[] {
  return [...list].sort((a, b) => SKILLS.indexOf(a.skill) - SKILLS.indexOf(b.skill));
}

/** `2026-12-24 to 2027-01-02 holiday; 2027-02-05`: a day or a span, then the reason if there is one. */
function readLeave(text: string): ListReading {
  const list: Leave[] = [];
  for (const part of parts(text, /;/)) {
    const m = LEAVE_PART.exec(part);
    const fromOn = m ? parseCalendarDate(m[1]!) : undefined;
    const toOn = m?.[2] === undefined ? fromOn : parseCalendarDate(m[2]);
    if (!m || !fromOn || !toOn || toOn < fromOn) {
      const isTurned = fromOn !== undefined && toOn !== undefined;
      return {
        ok: false,
        part,
        expected: "a day or a span, such as 2026-12-24 to 2027-01-02 holiday",
        ...(isTurned ? { fault: { rule: "ends-before-begin" } } : noSuchDay([m?.[1], m?.[2]])),
      };
    }
    list.push({ fromOn, toOn, reason: (m[3] ?? "").trim() });
  }
  return { ok: true, value: inDateOrder(list) };
}

function inDateOrder(list: readonly Leave[]): Leave[] {
  return [...list].sort((a, b) => (a.fromOn < b.fromOn ? -1 : a.fromOn > b.fromOn ? 1 : 0));
}

/** `vertical 42 bend; bridge 6; indoor 8`: kind, metres, and `bend` when the cable bends where the segment ends. */
function readRoute(text: string): ListReading {
  const list: RouteSegment[] = [];
  for (const part of parts(text, /[;>]/)) {
    const m = ROUTE_PART.exec(part);
    const kind = m?.[1]?.toLowerCase() as SegmentKind | undefined;
    const lengthM = Number(m?.[2]);
    if (!m || !kind || !SEGMENT_KINDS.includes(kind) || !(lengthM > 0)) {
      return {
        ok: false,
        part,
        expected: `segments such as vertical 42 bend; bridge 6; indoor 8 (${SEGMENT_KINDS.join(", ")}; metres with a decimal point)`,
      };
    }
    list.push({ kind, lengthM, bendAtEnd: m[3] !== undefined });
  }
  return { ok: true, value: list };
}

const PARTS = partKeys(DEFAULT_NORMS);
/** Parts by their name on screens, without case. */
const PART_OF_NAME = new Map(PARTS.map((part) => [partName(part, DEFAULT_NORMS).toLowerCase(), part]));

/** `fix-cable 62; connect 35`: a part of the norms or its name, then minutes. */
function readTaskMinutes(text: string): ListReading {
  const list: TaskMinutes[] = [];
  for (const part of parts(text, /;/)) {
    const m = TASK_PART.exec(part);
    const name = m?.[1]?.trim().toLowerCase() ?? "";
    const known = PARTS.includes(name) ? name : PART_OF_NAME.get(name);
    const workedMin = Number(m?.[2]);
    if (!known || !(workedMin > 0) || list.some((t) => t.part === known)) {
      return {
        ok: false,
        part,
        expected: `each task once with its minutes, such as fix-cable 62; connect 35 (${PARTS.join(", ")})`,
      };
    }
    list.push({ part: known, workedMin });
  }
  return { ok: true, value: inTaskOrder(list) };
}

function inTaskOrder(list: readonly TaskMinutes[]): TaskMinutes[] {
  return [...list].sort((a, b) => PARTS.indexOf(a.part) - PARTS.indexOf(b.part));
}
