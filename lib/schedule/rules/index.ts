/** The hard rules in one list; the engine reports a failed trial by its position here. */
import { ACCESS } from "./access";
import { HORIZON } from "./horizon";
import { KEPT } from "./kept";
import { KIT } from "./kit";
import { NIGHTS_AWAY } from "./nightsAway";
import { NOTICE } from "./notice";
import { ORDER } from "./order";
import { PAYLOAD } from "./payload";
import { PEOPLE } from "./people";
import { RELEASE } from "./release";
import { REST } from "./rest";
import { SHIFT } from "./shift";
import { SITE_LOCK } from "./siteLock";
import { TOGETHER } from "./together";
import { WEATHER } from "./weather";
import { WEEKLY_HOURS } from "./weeklyHours";

export const RULES = [
  KEPT,
  RELEASE,
  KIT,
  NOTICE,
  ACCESS,
  PEOPLE,
  WEATHER,
  SHIFT,
  WEEKLY_HOURS,
  REST,
  NIGHTS_AWAY,
  PAYLOAD,
  SITE_LOCK,
  ORDER,
  TOGETHER,
  HORIZON,
] as const;

/** Positions in RULES, and OK for a trial that breaks none. */
export const OK = -1;
export const BREAKS = {
  kept: 0,
  gate: 1,
  kit: 2,
  notice: 3,
  access: 4,
  people: 5,
  weather: 6,
  shift: 7,
  weeklyHours: 8,
  rest: 9,
  nightsAway: 10,
  payload: 11,
  siteLock: 12,
  order: 13,
  together: 14,
  horizon: 15,
} as const;
