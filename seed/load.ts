/** The demonstration: everything that a fresh installation shows, made for one day. */
import { makePlan } from "@/app/_server/planning";
import { assessPlan } from "@/app/_server/riskJob";
import { type Db, writing } from "@/db/open";
import { saveItem } from "@/db/queries/catalogue";
import { saveCrew, saveMember } from "@/db/queries/crews";
import { saveHop, saveSite } from "@/db/queries/design";
import { savePlace } from "@/db/queries/places";
import { planInForce } from "@/db/queries/plans";
import { loadTakeoffContext } from "@/db/queries/programme";
import { writeSetting } from "@/db/queries/settings";
import { storeWeather } from "@/db/queries/storeRows";
import { saveWeatherPlace } from "@/db/queries/weather";
import { destination } from "@/lib/geo";
import { Random } from "@/lib/random";
import { DEFAULT_CATALOGUE, takeOff } from "@/lib/takeoff";
import { addDays, type CalendarDate, instantAt } from "@/lib/time";
import type { WeatherPlace } from "@/lib/weather";
import { loadAccounts } from "./accounts";
import { loadCableHistory } from "./cableHistory";
import { DEMO_PLACES, demoCrews } from "./crews";
import { makeEarlierHops } from "./earlierHops";
import { loadFaultyUnits } from "./faults";
import { loadHistory } from "./history";
import { MADE_UP, makeOutlines } from "./outlines";
import { loadPast } from "./past";
import { loadStock } from "./stock";
import { CONTRACTOR, ISLAND_CENTRE, makeAwkward, makeHops, makeSites, ZONE } from "./vellmark";
import { makeMembers, makeWeather } from "./weather";

/** Where the invented programme lies: the zone in which "today" is meant. */
export const DEMO_ZONE = ZONE;

const SITE_COUNT = 60;
const HOP_COUNT = 40;
/** Hops that were finished before today, so that progress and actual hours have a past. */
const FINISHED_HOPS = 6;
/** Hops of the stage before, finished earlier still. */
const EARLIER_HOPS = 18;
const ENSEMBLE_MEMBERS = 12;

const WEATHER_PLACES: WeatherPlace[] = [
  { id: "WX-QUAY", name: "Sallow Quay", ...destination(ISLAND_CENTRE, 80, 30), elevationM: 12 },
  { id: "WX-HEAD", name: "Brackenhead", ...destination(ISLAND_CENTRE, 255, 28), elevationM: 40 },
  { id: "WX-FELL", name: "Fellcross", ...destination(ISLAND_CENTRE, 350, 14), elevationM: 310 },
  { id: "WX-MOOR", name: "Moorgate Cairn", ...destination(ISLAND_CENTRE, 190, 12), elevationM: 150 },
];

/** Weeks that the demonstration's plan looks ahead. */
const PLAN_WEEKS = 12;
/** Enough for a plan that a planner would sign; counted, not timed, so that every machine gets the same one. */
const PLAN_ITERATIONS = 3000;

/** Fills an empty, migrated database for `today`, plan in force included. Deterministic: same date, same rows. */
export function loadDemo(db: Db, today: CalendarDate): void {
  loadRows(db, today);
  const made = makePlan(
    db,
    {
      today,
      dayCount: PLAN_WEEKS * 7,
      frozenDays: 0,
      seed: "vellmark",
      maxIterations: PLAN_ITERATIONS,
      seconds: Number.POSITIVE_INFINITY,
      state: "in force",
      createdBy: "Demonstration",
      createdAt: instantAt(today, 6 * 60, DEMO_ZONE),
    },
    { report: () => {}, shouldStop: () => false, nowMillis: () => 0 },
  );
  if (!made.ok) throw new Error(made.problems.map((p) => p.message).join(" "));
  assessPlan(db, planInForce(db)!, today, instantAt(today, 6 * 60, DEMO_ZONE), {
    report: () => {},
    shouldStop: () => false,
  });
}

function loadRows(db: Db, today: CalendarDate): void {
  const random = new Random("vellmark");
  const now = instantAt(today, 6 * 60, DEMO_ZONE);
  writing(db, () => {
    loadAccounts(db, now);
    writeSetting(db, "demoLoadedOn", today);
    writeSetting(db, "demoZone", DEMO_ZONE);
    writeSetting(db, "demoTouched", false);
    writeSetting(db, "buyer", {
      name: CONTRACTOR,
      address: "Quay Yard 4\nAldermouth, Vellmark",
      contact: "stores desk, stores@skerrow.example",
    });
    writeSetting(db, "mapOutlines", { label: MADE_UP, version: 1, outlines: makeOutlines("vellmark") });
    for (const i of DEFAULT_CATALOGUE) saveItem(db, i);
    for (const p of DEMO_PLACES) savePlace(db, p);
    for (const c of demoCrews(today)) {
      saveCrew(db, c);
      for (const m of c.members) saveMember(db, c.code, m);
    }

    const made = makeSites(random.fork("sites"), SITE_COUNT);
    const hops = makeHops(random.fork("hops"), made, DEFAULT_CATALOGUE, today, HOP_COUNT);
    const finished = hops.slice(0, FINISHED_HOPS).map((h, i) => ({
      ...h,
      promisedOn: addDays(today, -18 + i * 3),
      gates: h.gates.map((g) => ({ ...g, state: "met" as const, dueOn: undefined })),
    }));
    const earlier = makeEarlierHops(finished, hops, made, today, EARLIER_HOPS);
    const toDo = makeAwkward(made, hops.slice(FINISHED_HOPS));
    for (const s of toDo.sites) saveSite(db, s);
    for (const h of [...earlier, ...finished, ...toDo.hops]) saveHop(db, h);

    const context = loadTakeoffContext(db);
    const takeoffs = toDo.hops.map((h) => takeOff(h, context));
    loadStock(db, toDo.hops, takeoffs, {
      random: random.fork("stock"),
      today,
      now,
      catalogue: DEFAULT_CATALOGUE,
    });
    loadHistory(db, DEFAULT_CATALOGUE, { random: random.fork("history"), today, now });
    loadCableHistory(db, DEFAULT_CATALOGUE, { random: random.fork("cable history"), today, now });
    loadPast(db, [...earlier, ...finished], context, { random: random.fork("past"), today, now });
    loadFaultyUnits(db, earlier, context, { today, now });

    for (const p of WEATHER_PLACES) saveWeatherPlace(db, { code: p.id, ...p });
    const year = Number(today.slice(0, 4));
    const series = makeWeather(random.fork("weather"), WEATHER_PLACES, {
      firstHistoryYear: year - 6,
      years: 6,
      forecastDays: 10,
      meanWindMs: 4.8,
      nowMillis: instantAt(today, 0, DEMO_ZONE),
    });
    const members = series
      .filter((s) => s.kind === "forecast")
      .flatMap((s) => makeMembers(random.fork(`members ${s.placeId}`), s, ENSEMBLE_MEMBERS));
    storeWeather(db, [...series, ...members]);
  });
}
