/** A large made-up programme for measuring: thousands of sites, tens of crews, hundreds of weather places. */
import { type Db, writing } from "@/db/open";
import { saveItem } from "@/db/queries/catalogue";
import { saveCrew, saveMember } from "@/db/queries/crews";
import { saveHop, saveSite } from "@/db/queries/design";
import { saveDrum } from "@/db/queries/drums";
import { postMovement } from "@/db/queries/ledger";
import { savePlace } from "@/db/queries/places";
import { writeSetting } from "@/db/queries/settings";
import { storeWeather } from "@/db/queries/storeRows";
import { saveWeatherPlace } from "@/db/queries/weather";
import { destination } from "@/lib/geo";
import { Random } from "@/lib/random";
import { DEFAULT_CATALOGUE } from "@/lib/takeoff";
import { type CalendarDate, instantAt } from "@/lib/time";
import type { WeatherPlace } from "@/lib/weather";
import { loadAccounts } from "./accounts";
import { demoCrews } from "./crews";
import { MADE_UP, makeOutlines } from "./outlines";
import { ISLAND_CENTRE, makeHops, makeSites, ZONE } from "./vellmark";
import { makeWeather } from "./weather";

export interface ScaleWanted {
  sites: number;
  hops: number;
  crews: number;
  weatherPlaces: number;
  weeks: number;
  years: number;
}

/** Fills an empty, migrated database. Stock is ample: what is measured is crews, weather and size. */
export function loadScale(db: Db, today: CalendarDate, wanted: ScaleWanted, seed = "scale"): void {
  const random = new Random(seed);
  const now = instantAt(today, 6 * 60, ZONE);
  writing(db, () => {
    loadAccounts(db, now);
    writeSetting(db, "demoLoadedOn", today);
    writeSetting(db, "demoZone", ZONE);
    const spread = Math.sqrt(wanted.sites / 60);
    writeSetting(db, "mapOutlines", { label: MADE_UP, version: 1, outlines: makeOutlines(seed, spread) });
    for (const i of DEFAULT_CATALOGUE) saveItem(db, i);
    const sites = makeSites(random.fork("sites"), wanted.sites);
    for (const s of sites) saveSite(db, s);
    const hops = makeHops(
      random.fork("hops"),
      sites,
      DEFAULT_CATALOGUE,
      today,
      wanted.hops,
      wanted.weeks * 7 - 40,
    );
    for (const h of hops) saveHop(db, h);
    loadCrews(db, random.fork("crews"), today, wanted);
    loadAmpleStock(db, today, now, wanted.hops);
    loadWeather(db, random.fork("weather"), today, wanted);
  });
}

/** Two depots for every four crews, spread over the island as the sites are. */
function loadCrews(db: Db, random: Random, today: CalendarDate, wanted: ScaleWanted): void {
  const spread = Math.sqrt(wanted.sites / 60);
  const depots = Math.max(2, Math.ceil(wanted.crews / 2));
  for (let d = 0; d < depots; d++) {
    const share = Math.sqrt((d + 0.5) / depots);
    const bearing = d * 137.5; // golden angle: even cover of the ellipse
    const east = destination(ISLAND_CENTRE, 90, Math.sin((bearing * Math.PI) / 180) * share * 40 * spread);
    const at = destination(east, 0, Math.cos((bearing * Math.PI) / 180) * share * 26 * spread);
    savePlace(db, { code: `WH-${d + 1}`, name: `Warehouse ${d + 1}`, kind: "warehouse", ...at });
  }
  const models = demoCrews(today);
  for (let c = 0; c < wanted.crews; c++) {
    const model = models[c % models.length]!;
    const code = `K${String(c + 1).padStart(3, "0")}`;
    saveCrew(db, {
      ...model,
      vehiclePlace: undefined,
      code,
      name: `Crew ${c + 1}`,
      depotPlace: `WH-${(c % depots) + 1}`,
      pace: random.between(0.95, 1.1),
    });
    for (const [i, m] of model.members.entries()) {
      const skills = m.skills.map((s) => ({ skill: s.skill }));
      saveMember(db, code, { ...m, code: `${code}-${i + 1}`, skills, leave: [] });
    }
  }
}

function loadAmpleStock(db: Db, today: CalendarDate, now: number, hops: number): void {
  for (const item of DEFAULT_CATALOGUE) {
    const row = {
      itemCode: item.code,
      owner: item.owner,
      toPlace: "WH-1",
      effectiveOn: today,
      postedAt: now,
    } as const;
    const text = { reason: "Opening stock", postedBy: "Opening stock", kind: "receipt" } as const;
    if (item.category === "IF cable") {
      for (let d = 0; d < Math.ceil((hops * 160) / item.orderMultiple / 4); d++) {
        const serial = `${item.code}-D${d + 1}`;
        saveDrum(db, { serial, itemCode: item.code, receivedC: item.orderMultiple * 100 });
        postMovement(db, {
          ...row,
          ...text,
          key: serial,
          drumSerial: serial,
          quantityC: item.orderMultiple * 100,
        });
      }
    } else {
      postMovement(db, { ...row, ...text, key: item.code, quantityC: hops * 400 * 100 });
    }
  }
}

function loadWeather(db: Db, random: Random, today: CalendarDate, wanted: ScaleWanted): void {
  const spread = Math.sqrt(wanted.sites / 60);
  const places: WeatherPlace[] = Array.from({ length: wanted.weatherPlaces }, (_, i) => {
    const share = Math.sqrt((i + 0.5) / wanted.weatherPlaces);
    const bearing = (i * 137.5 * Math.PI) / 180;
    const east = destination(ISLAND_CENTRE, 90, Math.sin(bearing) * share * 46 * spread);
    const at = destination(east, 0, Math.cos(bearing) * share * 30 * spread);
    return { id: `WX-${i + 1}`, name: `Place ${i + 1}`, ...at, elevationM: 50 + (i % 7) * 40 };
  });
  for (const p of places) saveWeatherPlace(db, { code: p.id, ...p });
  const series = makeWeather(random, places, {
    firstHistoryYear: Number(today.slice(0, 4)) - wanted.years,
    years: wanted.years,
    forecastDays: 10,
    meanWindMs: 4.8,
    nowMillis: instantAt(today, 0, ZONE),
  });
  storeWeather(db, series);
}
