/** Find anything: what a person may open, best matches first, in groups. */

import { formatDate } from "@/app/_ui/format";
import { OWN_LANGUAGE } from "@/app/_ui/language/languages";
import { visitName } from "@/app/_ui/language/visitName";
import { makeWords, type Words } from "@/app/_ui/language/words";
import { type MorePlace, morePlacesFor, type NavPerson, placesFor } from "@/app/_ui/nav";
import { KIT_STATES } from "@/app/_ui/states";
import type { Db } from "@/db/open";
import { type FoundKind, type FoundThing, findableThings } from "@/db/queries/find";
import type { KitState } from "@/db/queries/kitRows";
import { within } from "@/db/queries/regions";
import { type Findable, findable, findIn, rankIn } from "@/lib/find";
import { parseVisitId, visitWords } from "@/lib/visitIds";
import type { Visitor } from "./carryOut";

export interface FoundHere {
  group: string;
  label: string;
  detail: string;
  href: string;
}

const GROUP: Readonly<Record<FoundKind, string>> = {
  site: "Sites",
  hop: "Hops",
  crew: "Crews",
  item: "Items",
  order: "Orders",
  drum: "Drums",
  serial: "Serials",
  kit: "Kits",
  visit: "Visits",
};

/** Kinds whose pages are for the office. */
const OFFICE_KINDS: ReadonlySet<FoundKind> = new Set(["item", "order", "drum", "serial"]);
const OF_A_KIND = 5;
/** For who asks in no language. */
const PLAIN = makeWords(OWN_LANGUAGE, {});

/** @param words the reader's: pages are found by their names in it as well as by the English ones */
export function findFor(db: Db, visitor: Visitor, query: string, words?: Words): FoundHere[] {
  const sees = seenBy(db, visitor);
  const person: NavPerson = { role: visitor.role, isLimited: visitor.regions !== null };
  const groups = [
    findIn(pagesFor(person, words), query, OF_A_KIND).map((page) => ({
      rank: rankIn(page, query),
      found: { group: "Pages", label: page.label, detail: page.detail, href: page.href },
    })),
    // Those that may not be seen are left out before the best are taken, or they would take the places of others.
    ...findableThings(db).map((things) =>
      findIn(things, query, OF_A_KIND, sees).map((thing) => ({
        rank: rankIn(thing, query),
        found: {
          group: GROUP[thing.kind],
          label: thing.code,
          detail: detailOf(thing, words),
          href: hrefOf(thing, visitor),
        },
      })),
    ),
  ].filter((group) => group.length > 0);
  // A group goes by its best; groups that are equally good keep their order.
  groups.sort((a, b) => (a[0]!.rank ?? 9) - (b[0]!.rank ?? 9));
  return groups.flat().map(({ found }) => found);
}

function detailOf(
  { kind, code, detail: told, state, on, leftWith, isWithdrawn }: FoundThing,
  words: Words | undefined,
): string {
  const said = (text: string) => (words ? words.t(text) : text);
  const isOut = kind === "kit" && state === "issued";
  const work = kind === "kit" ? parseVisitId(code)?.kind : undefined;
  // The detail of a kit is what its revisit is for.
  const detail = work && work !== "install" ? said(visitWords(work, { remedy: told || undefined })) : told;
  const parts = [
    detail,
    state && said(kind === "kit" ? KIT_STATES[state as KitState].word : state),
    leftWith && leftWithWords(leftWith, words),
    // When it was picked says nothing of a kit that has left.
    on && !isOut ? formatDate(on, "weekday", words?.locale) : "",
  ];
  const whole = parts.filter(Boolean).join(", ");
  return isWithdrawn ? `${said("withdrawn: not needed any more")} (${whole})` : whole;
}

function leftWithWords(visitId: string, words: Words | undefined): string {
  const t: Words["t"] = words?.t ?? PLAIN.t;
  return t("left with the kit {{kit}}", { kit: visitName(visitId, t) });
}

function seenBy(db: Db, { role, regions, crewId }: Visitor): (thing: FoundThing) => boolean {
  const inside = regions === null ? undefined : within(db, regions);
  return ({ kind, siteCode, hopCode, crewCode }) => {
    if (OFFICE_KINDS.has(kind)) return role !== "crew lead";
    if (kind === "kit" && role === "crew lead" && crewCode !== crewId) return false;
    if (!inside) return true;
    if (siteCode !== undefined) return inside.sites.has(siteCode);
    return hopCode === undefined || inside.hops.has(hopCode);
  };
}

function hrefOf({ kind, code, crewCode }: FoundThing, { role, crewId }: Visitor): string {
  const part = encodeURIComponent(code);
  const steps = code.split("/").map(encodeURIComponent).join("/");
  switch (kind) {
    case "site":
      return `/sites/${part}`;
    case "hop":
      return `/hops/${part}`;
    case "crew":
      return `/plan?crew=${part}`;
    case "item":
      return `/stock/items/${part}`;
    case "order":
      return `/stock/orders/${part}`;
    case "serial":
      return `/stock?tab=ledger&serial=${part}`;
    case "drum":
      return `/stock?tab=ledger&drum=${part}`;
    case "kit":
      return `/kits/${steps}`;
    case "visit":
      return role === "crew lead" && crewCode === crewId && parseVisitId(code)
        ? `/week/visit/${steps}`
        : `/plan?visit=${part}`;
  }
}

interface Page extends Findable {
  label: string;
  detail: string;
  href: string;
}

function pagesFor(person: NavPerson, words?: Words): Page[] {
  const main = placesFor(person).map((p): MorePlace => ({ ...p, detail: "" }));
  return [...main, ...morePlacesFor(person)].map(({ label, detail, href }) => ({
    label,
    detail,
    href,
    ...(words && words.language !== OWN_LANGUAGE
      ? findable(words.t(label), `${words.t(detail)} ${label} ${detail}`)
      : findable(label, detail)),
  }));
}
