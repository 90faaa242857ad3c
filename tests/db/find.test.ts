/** Find anything: what each person is shown, where it leads, and how fast at 2,000 sites. */
import { beforeAll, describe, expect, it } from "vitest";
import { findFor } from "@/app/_server/find";
import { formatDate } from "@/app/_ui/format";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { makeWords, type Words } from "@/app/_ui/language/words";
import { migrateDatabase } from "@/db/migrate";
import { type Db, openDatabase } from "@/db/open";
import { findableThings } from "@/db/queries/find";
import { postMovement } from "@/db/queries/ledger";
import { siteRegions, within } from "@/db/queries/regions";
import { hungUnit } from "@/db/schema";
import type { CalendarDate } from "@/lib/time";
import { loadDemo } from "@/seed/load";
import { visitorAs } from "../helpers/visitor";

const TODAY = "2026-03-16" as CalendarDate;
let db: Db;

beforeAll(() => {
  db = openDatabase(":memory:");
  migrateDatabase(db);
  loadDemo(db, TODAY);
}, 300_000);

const of = (kind: string) =>
  findableThings(db)
    .flat()
    .filter((t) => t.kind === kind);
const manager = visitorAs("manager");
const groupsOf = (query: string, visitor = manager) => [
  ...new Set(findFor(db, visitor, query).map((f) => f.group)),
];

describe("find anything", () => {
  it("knows every kind of thing, and leads to its page", () => {
    for (const kind of ["site", "hop", "crew", "item", "order", "drum", "kit", "visit"])
      expect(of(kind).length, kind).toBeGreaterThan(0);
    const [site] = of("site");
    expect(findFor(db, manager, site!.code)[0]).toMatchObject({
      group: "Sites",
      label: site!.code,
      href: `/sites/${site!.code}`,
    });
    const [visit] = of("visit");
    expect(findFor(db, manager, visit!.code).map((f) => f.href)).toContain(
      `/plan?visit=${encodeURIComponent(visit!.code)}`,
    );
    expect(findFor(db, manager, "solve")[0]).toMatchObject({ group: "Pages", href: "/plan/solve" });
  });

  it("knows a piece by the serial that the ledger has of it", () => {
    const [radio] = of("item").filter((t) => t.code.startsWith("ODU-"));
    postMovement(db, {
      key: "a radio with a serial",
      kind: "receipt",
      itemCode: radio!.code,
      owner: "contractor",
      toPlace: "WH-EAST",
      quantityC: 100,
      serial: "RU-77001",
      effectiveOn: TODAY,
      postedAt: 1,
      reason: "for the test",
      postedBy: "Test",
    });
    expect(findFor(db, manager, "ru-77001")).toMatchObject([
      { group: "Serials", label: "RU-77001", href: "/stock?tab=ledger&serial=RU-77001" },
    ]);
    db.insert(hungUnit)
      .values({
        key: "a radio that a crew hung",
        serial: "RU-77002",
        itemCode: radio!.code,
        hopCode: of("hop")[0]!.code,
        side: "near",
        oduLabel: "R1",
        hungOn: TODAY,
        recordedBy: "Test",
        recordedAt: 1,
      })
      .run();
    expect(findFor(db, manager, "ru-77002")).toMatchObject([
      { group: "Serials", label: "RU-77002", href: "/stock?tab=ledger&serial=RU-77002" },
    ]);
    expect(groupsOf("RU-77001", { ...visitorAs("crew lead"), crewId: "C1" })).toEqual([]);
  });

  it("puts the group of the exact code first", () => {
    const [item] = of("item");
    expect(groupsOf(item!.code)[0]).toBe("Items");
  });

  it("shows a crew lead no stock and no kit of another crew", () => {
    const lead = { ...visitorAs("crew lead"), crewId: "C1" };
    const drum = of("drum")[0]!;
    expect(groupsOf(drum.code)).toContain("Drums");
    expect(groupsOf(drum.code, lead)).not.toContain("Drums");
    const other = of("kit").find((k) => k.crewCode !== null && k.crewCode !== "C1")!;
    expect(groupsOf(other.code)).toContain("Kits");
    expect(groupsOf(other.code, lead)).not.toContain("Kits");
    const own = of("visit").find((v) => v.crewCode === "C1")!;
    expect(findFor(db, lead, own.code).some((f) => f.href.startsWith("/week/visit/"))).toBe(true);
    expect(groupsOf("solve", lead)).not.toContain("Pages");
  });

  it("leaves out what lies outside of a person's regions", () => {
    const region = siteRegions(db)[0]!;
    const limited = { ...manager, regions: [region] };
    const inside = within(db, [region]);
    const outside = of("site").find((s) => !inside.sites.has(s.code))!;
    const mine = of("site").find((s) => inside.sites.has(s.code))!;
    expect(groupsOf(outside.code)).toContain("Sites");
    expect(findFor(db, limited, outside.code).map((f) => f.label)).not.toContain(outside.code);
    expect(findFor(db, limited, mine.code).map((f) => f.label)).toContain(mine.code);
    const hop = of("hop").find((h) => !inside.hops.has(h.code))!;
    for (const found of findFor(db, limited, hop.code)) expect(found.label).not.toContain(hop.code);
    expect(groupsOf("bring in", limited)).not.toContain("Pages");
  });

  it("says a state in the reader's language, with the word that the kit's own page has", () => {
    const de = makeWords("de", wholeCatalogueOf("de"));
    const detail = (code: string, words?: Words) =>
      findFor(db, manager, code, words).find((f) => f.group === "Kits" && f.label === code)?.detail;
    const kit = of("kit").find((k) => k.state === "planned")!;
    expect(detail(kit.code)).toBe(`To pick, ${formatDate(kit.on!, "weekday")}`);
    expect(detail(kit.code, de)).toBe(`Zu kommissionieren, ${formatDate(kit.on!, "weekday", de.locale)}`);
    const order = of("order").find((o) => o.state === "sent" || o.state === "closed")!;
    expect(findFor(db, manager, order.code, de)[0]!.detail).toBe(`${order.detail}, ${de.t(order.state!)}`);
    expect(de.t(order.state!)).not.toBe(order.state);
  });

  it("finds nothing by nothing", () => expect(findFor(db, manager, " ")).toEqual([]));
});
