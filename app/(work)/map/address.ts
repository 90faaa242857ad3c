/** The map's address: view and choice, so that a link opens what its sender saw. */
import { type MapView, parseView, viewText } from "@/lib/map";
import { type CalendarDate, parseCalendarDate } from "@/lib/time";
import type { Picked } from "./draw";
import type { Filters } from "./scene";

export interface MapChoice {
  view?: MapView;
  filters: Filters;
  day?: CalendarDate;
  picked?: Picked;
}

export function readChoice(search: Readonly<Record<string, string | undefined>>): MapChoice {
  const { at, q, state, region, crew, day, hop, site } = search;
  return {
    view: parseView(at),
    filters: { text: q ?? "", state: state ?? "", region: region ?? "", crew: crew ?? "" },
    day: day ? parseCalendarDate(day) : undefined,
    picked: hop ? { kind: "hop", code: hop } : site ? { kind: "site", code: site } : undefined,
  };
}

/** Only what is chosen stands in it: the plain address is the whole map. */
export function choiceAddress({ view, filters, day, picked }: MapChoice): string {
  const params = new URLSearchParams();
  const put = (name: string, value: string | undefined) => value && params.set(name, value);
  put("q", filters.text.trim());
  put("state", filters.state);
  put("region", filters.region);
  put("crew", filters.crew);
  put("day", filters.crew ? day : undefined);
  put(picked?.kind ?? "", picked?.code);
  put("at", view && viewText(view));
  return params.size > 0 ? `/map?${params}` : "/map";
}
