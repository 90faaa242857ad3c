import type { GlyphName } from "./Glyph";

/** What a signed-in person may see and do. The server checks it again for every action. */
export type Role = "administrator" | "manager" | "logistics" | "crew lead";

export const ROLE_WORDS: Readonly<Record<Role, string>> = {
  administrator: "Administrator",
  manager: "Rollout manager",
  logistics: "Logistics",
  "crew lead": "Crew lead",
};

export interface Place {
  href: string;
  label: string;
  /** Shorter word for the bar at the thumb. */
  short: string;
  glyph: GlyphName;
  roles: readonly Role[];
  /** Shows the whole programme: not for an account that is limited to regions. */
  isWhole?: boolean;
}

/** As much of a person as the navigation goes by. */
export interface NavPerson {
  role: Role;
  isLimited: boolean;
}

const PLANNERS: readonly Role[] = ["administrator", "manager", "logistics"];
const ALL: readonly Role[] = ["administrator", "manager", "logistics", "crew lead"];

/** The main places, in the order of the loop. */
export const PLACES: readonly Place[] = [
  {
    href: "/programme",
    label: "Programme",
    short: "Programme",
    glyph: "programme",
    roles: PLANNERS,
    isWhole: true,
  },
  { href: "/sites", label: "Sites and hops", short: "Sites", glyph: "sites", roles: ALL },
  { href: "/map", label: "Map", short: "Map", glyph: "map", roles: ALL },
  {
    href: "/plan",
    label: "Plan",
    short: "Plan",
    glyph: "plan",
    roles: ALL,
  },
  { href: "/weather", label: "Weather", short: "Weather", glyph: "weather", roles: ALL },
  { href: "/stock", label: "Stock", short: "Stock", glyph: "stock", roles: PLANNERS },
  { href: "/kits", label: "Kits", short: "Kits", glyph: "kits", roles: ALL },
  {
    href: "/week",
    label: "My week",
    short: "My week",
    glyph: "week",
    roles: ["administrator", "manager", "crew lead"],
    isWhole: true,
  },
  { href: "/import", label: "Bring in", short: "Bring in", glyph: "import", roles: PLANNERS, isWhole: true },
  { href: "/rules", label: "Rules", short: "Rules", glyph: "rules", roles: ALL },
];

/** What each role reaches with a thumb first; everything else is behind "More". */
const THUMB: Readonly<Record<Role, readonly string[]>> = {
  administrator: ["/programme", "/plan", "/stock", "/rules"],
  manager: ["/programme", "/plan", "/weather", "/sites"],
  logistics: ["/stock", "/kits", "/sites", "/programme"],
  "crew lead": ["/week", "/kits", "/weather", "/sites"],
};

/** Pages below the main places, for those who look for them by name. */
export interface MorePlace {
  href: string;
  label: string;
  /** Other words by which people look for it. */
  detail: string;
  roles: readonly Role[];
  isWhole?: boolean;
}

const DECIDERS: readonly Role[] = ["administrator", "manager"];
const STORE: readonly Role[] = ["administrator", "logistics"];

export const MORE_PLACES: readonly MorePlace[] = [
  {
    href: "/programme/finish",
    label: "What drives the finish",
    detail: "P50, P80, risk",
    roles: PLANNERS,
    isWhole: true,
  },
  {
    href: "/programme/hours",
    label: "Hours: estimated and worked",
    detail: "actual hours, factors",
    roles: PLANNERS,
    isWhole: true,
  },
  { href: "/sites?tab=hops", label: "Hops", detail: "list of hops", roles: ALL },
  { href: "/plan/solve", label: "Solve anew", detail: "search for a plan", roles: DECIDERS, isWhole: true },
  { href: "/plan/list", label: "Plan as a list", detail: "to print", roles: ALL },
  { href: "/stock?tab=order", label: "Order today", detail: "stock", roles: PLANNERS },
  { href: "/stock?tab=orders", label: "Orders", detail: "stock, on the way", roles: PLANNERS },
  { href: "/stock?tab=on-hand", label: "On hand", detail: "stock, balances", roles: PLANNERS },
  { href: "/stock?tab=transfers", label: "Transfers", detail: "stock", roles: PLANNERS },
  { href: "/stock?tab=drums", label: "Drums", detail: "cutting lists", roles: PLANNERS },
  { href: "/stock?tab=ledger", label: "Ledger", detail: "stock, movements", roles: PLANNERS },
  { href: "/stock/faults", label: "Faulty pieces", detail: "stock, hold, repair", roles: PLANNERS },
  { href: "/stock/spares", label: "Spares", detail: "stock", roles: PLANNERS, isWhole: true },
  { href: "/stock/counts", label: "Counts", detail: "stock", roles: PLANNERS, isWhole: true },
  {
    href: "/stock/close-out",
    label: "Close-out",
    detail: "stock, material of a hop",
    roles: PLANNERS,
    isWhole: true,
  },
  { href: "/stock/record", label: "Record a movement", detail: "receipt, issue, scrap", roles: STORE },
  {
    href: "/week/sheet",
    label: "Ten-day sheet",
    detail: "my week, to print",
    roles: ["administrator", "manager", "crew lead"],
    isWhole: true,
  },
  { href: "/rules?tab=accounts", label: "Accounts", detail: "people, invitations", roles: ["administrator"] },
  { href: "/rules?tab=log", label: "Log", detail: "who changed what", roles: DECIDERS },
  {
    href: "/map/ground",
    label: "What lies under the map",
    detail: "outlines, tiles",
    roles: ["administrator"],
    isWhole: true,
  },
  { href: "/jobs", label: "Long work", detail: "jobs", roles: ["administrator"], isWhole: true },
  { href: "/account", label: "Your account", detail: "password, second factor, sessions", roles: ALL },
];

export function morePlacesFor({ role, isLimited }: NavPerson): readonly MorePlace[] {
  return MORE_PLACES.filter((place) => place.roles.includes(role) && !(isLimited && place.isWhole));
}

/** The places a person sees. */
export function placesFor({ role, isLimited }: NavPerson): readonly Place[] {
  return PLACES.filter((place) => place.roles.includes(role) && !(isLimited && place.isWhole));
}

/** The role's places, split into those on the thumb bar (at most four) and the rest. */
export function thumbPlaces(person: NavPerson): { first: readonly Place[]; rest: readonly Place[] } {
  const seen = placesFor(person);
  const first = THUMB[person.role].flatMap((href) => seen.filter((place) => place.href === href));
  return { first, rest: seen.filter((place) => !first.includes(place)) };
}

/** Is `pathname` this place or a page below it? */
export function isCurrent(place: Place, pathname: string): boolean {
  return pathname === place.href || pathname.startsWith(`${place.href}/`);
}
