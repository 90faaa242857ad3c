import type { Metadata } from "next";
import Link from "next/link";
import { forbidden, notFound } from "next/navigation";
import type { ReactNode } from "react";
import { homeToday, homeZone, machineNow, nowMillis } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { seesHop } from "@/app/_server/regions";
import { refuseRegion, requireRoleInRegions } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { formatDate, formatQuantity } from "@/app/_ui/format";
import { kitLineName } from "@/app/_ui/language/kitLineName";
import { lineReason } from "@/app/_ui/language/lineReason";
import { visitName } from "@/app/_ui/language/visitName";
import type { Words } from "@/app/_ui/language/words";
import { Notice } from "@/app/_ui/Notice";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { PickSheet } from "@/app/_ui/PickSheet";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { Stat, StatRow } from "@/app/_ui/Stat";
import { Tabs } from "@/app/_ui/Tabs";
import { database } from "@/db/open";
import { holdsOf } from "@/db/queries/holds";
import { runsToFollow } from "@/db/queries/kitLosses";
import { outOfKit, vehiclesOf } from "@/db/queries/kitOut";
import { ridesOpened } from "@/db/queries/kitShort";
import { type KitLineView, type KitView, loadKitView } from "@/db/queries/kitView";
import { loadPlaces } from "@/db/queries/places";
import { planInForce } from "@/db/queries/plans";
import { latestOf, reportsOfVisit } from "@/db/queries/reports";
import { isLeftOut } from "@/db/queries/vehicleOpened";
import { withdrawnVisits } from "@/db/queries/withdrawn";
import { kitPath, ledgerPath } from "../../stock/words";
import { KeepOnPhone } from "../../week/KeepOnPhone";
import { KitStateMark } from "../KitStateMark";
import { kitName } from "../kitName";
import { pickWords } from "../pickWords";
import { IssuePanel } from "./IssuePanel";
import { LostRunsPanel } from "./LostRunsPanel";
import { notOpenedWords, takenFromOthers, transferWords } from "./lineWords";
import { MissingPanel } from "./MissingPanel";
import { PickList } from "./PickList";
import { ReturnPanel } from "./ReturnPanel";

interface KitPageProps {
  params: Promise<{ visitId: string[] }>;
  searchParams: Promise<{ view?: string }>;
}

const idOf = (parts: readonly string[]): string => parts.map(decodeURIComponent).join("/");

export async function generateMetadata({ params }: KitPageProps): Promise<Metadata> {
  const { t } = await serverWords();
  return { title: t("Kit {{visit}}", { visit: visitName(idOf((await params).visitId), t) }) };
}

/** One kit: tick it off at the shelf, count it, issue it to the vehicle, take unused back; or print it. */
export default async function KitPage({ params, searchParams }: KitPageProps) {
  const visitor = await requireRoleInRegions();
  const words = await serverWords();
  const { t, locale, amount } = words;
  const visitId = idOf((await params).visitId);
  const view = (await searchParams).view === "sheet" ? "sheet" : "pick";
  const db = database();
  const today = homeToday(db);
  const plan = planInForce(db);
  const found = plan && loadKitView(db, plan, visitId, today);
  if (!found) notFound();
  const kit = { ...found, lines: found.lines.map((l) => ({ ...l, name: kitLineName(l.name, words) })) };
  const isLead = visitor.role === "crew lead";
  if (isLead && kit.crewCode !== visitor.crewId) forbidden();
  if (!seesHop(db, visitor, kit.hopCode)) refuseRegion();
  const lacking = kit.lines.filter((l) => l.lacksC > 0);
  const short = kit.lines.filter((l) => l.lacksC > 0 || isLeftOut(l.notOpened));
  const hold = holdsOf(db, plan).get(visitId);
  const onHold = withdrawnVisits(db).has(visitId) ? (
    <Notice kind="warn" title={t("The visit was withdrawn: it is not needed any more")}>
      {t("Nobody picks or issues for it; what was picked or issued goes back to the shelf.")}
    </Notice>
  ) : hold ? (
    <Notice
      kind="hold"
      title={t("The visit is on hold, reported by {{name}}: {{reason}}", {
        name: hold.by,
        reason: hold.reason,
      })}
    >
      {t("It keeps its day until the next plan: ask the rollout manager before you pick or issue.")}
    </Notice>
  ) : null;
  const path = kitPath(visitId);
  const places = loadPlaces(db);
  const report = latestOf(reportsOfVisit(db, visitId));
  const issued = outOfKit(db, visitId);
  const wanted = kit.lines.filter((l) => !ridesOpened(l));
  const isDone = report?.outcome === "done";
  const following = kit.state === "issued" ? runsToFollow(db) : new Set<string>();
  const missing =
    kit.state === "issued" && !isDone
      ? lacking.filter((l) => l.runId === null || following.has(l.runId))
      : [];
  const runsOut = isDone ? [] : kit.lines.filter((l) => l.runId && l.cut && l.pickedC > 0);
  const runsLost = kit.lines.filter((l) => l.lostRun !== null && following.has(l.runId ?? ""));
  const picked = wanted.filter((l) => l.isWhole).length;
  // Where the ledger has it, whatever its crew drives.
  const loaded = kit.state === "issued" ? vehiclesOf(db, visitId) : [];
  return (
    <>
      <PageHead
        crumbs={[{ label: t("Kits"), href: "/kits" }]}
        title={t("Kit {{visit}}", { visit: kitName(kit, t) })}
        marks={<KitStateMark state={kit.state} isNeverIssued={kit.isNeverIssued} boxed />}
        lead={`${t("{{site}}, crew {{crew}}, visit {{start}}.", {
          site: `${kit.siteCode} ${kit.siteName}`,
          crew: kit.crewCode ?? t("not assigned"),
          start: formatDate(kit.startOn, "full", locale),
        })} ${pickWords(
          kit,
          {
            place: `${kit.placeCode} ${kit.placeName}`,
            day: formatDate(kit.pickOn, "full", locale),
          },
          t,
        )}`}
        actions={
          isLead ? undefined : (
            <>
              {kit.isNeverIssued && kit.state === "planned" ? null : (
                <LinkButton href={`/stock/labels?kind=kit&code=${encodeURIComponent(visitId)}`}>
                  {t("Label")}
                </LinkButton>
              )}
              <LinkButton href={ledgerPath({ visit: visitId })}>{t("Its ledger rows")}</LinkButton>
            </>
          )
        }
      />
      {isLead ? (
        <KeepOnPhone
          userId={visitor.userId}
          paths={["/week"]}
          madeAtMillis={machineNow()}
          shownMillis={nowMillis(db)}
          zone={homeZone(db)}
        />
      ) : null}
      {kit.isNeverIssued && report ? (
        <Notice kind="warn" title={t("Its visit is done, and by the books this kit was never issued")}>
          {t(
            "Reported done by {{name}}, worked on {{day}}. Ask the crew what it worked with, then issue what left, so that the shelf is right.",
            { name: report.reportedBy, day: formatDate(report.workedOn, "weekday", locale) },
          )}
        </Notice>
      ) : null}
      <div className="ui-no-print">
        <StatRow>
          <Stat
            label={t("Picked")}
            figure={t("{{count}} lines", { count: picked })}
            limit={t("of {{number}}", { number: wanted.length })}
            tone={picked === wanted.length ? "good" : "plain"}
          />
          <Stat
            label={t("Short")}
            figure={t("{{count}} lines", { count: short.length })}
            limit={isDone ? t("its visit is done") : shortLimit(short, words)}
            tone={short.length > 0 ? "problem" : "good"}
          />
          <Stat
            label={t("Mass")}
            figure={formatQuantity(kit.massKg, "kg", 0, locale)}
            limit={
              kit.payloadKg
                ? t("payload {{mass}}", { mass: formatQuantity(kit.payloadKg, "kg", 0, locale) })
                : t("payload not known")
            }
            tone={kit.payloadKg && kit.massKg > kit.payloadKg ? "problem" : "plain"}
          />
          <Stat
            label={t("Vehicle")}
            figure={loaded.join(", ") || (kit.vehiclePlace ?? t("not named"))}
            limit={
              kit.vehiclePlace && loaded.some((v) => v !== kit.vehiclePlace)
                ? t("crew {{crew}} drives {{own}}", { crew: kit.crewCode ?? "–", own: kit.vehiclePlace })
                : t("crew {{crew}}", { crew: kit.crewCode ?? "–" })
            }
          />
        </StatRow>
        <Tabs
          label={t("Views of the kit")}
          tabs={[
            { href: path, label: t("Pick and issue"), current: view === "pick" },
            { href: `${path}?view=sheet`, label: t("Sheet to print"), current: view === "sheet" },
          ]}
        />
      </div>
      {view === "sheet" ? (
        <Sheet kit={kit} notice={onHold} />
      ) : (
        <div className="grid grid-cols-1 gap-4">
          {onHold}
          {short.length > 0 ? (
            <Notice
              kind="warn"
              title={
                short.some((l) => l.lostC > 0)
                  ? lostWords(short, words)
                  : kit.state === "issued"
                    ? t("Issued short by {{count}} lines", { count: short.length })
                    : t("{{count}} lines short", { count: short.length })
              }
            >
              {kit.shortWhy ? <p>{t("Said when it was issued: {{why}}", { why: kit.shortWhy })}</p> : null}
              <ul>
                {short.map((l) => (
                  <li key={l.lineNo}>
                    {isLead ? (
                      l.itemCode
                    ) : (
                      <Link href={`/stock/items/${encodeURIComponent(l.itemCode)}`}>{l.itemCode}</Link>
                    )}{" "}
                    {l.name}: {shortWords(l, kit, words)}
                  </li>
                ))}
              </ul>
            </Notice>
          ) : null}
          <PickList
            visitId={visitId}
            lines={kit.lines}
            placeName={kit.placeName}
            readOnly={isLead || kit.state === "issued"}
            reasons={Object.fromEntries(kit.lines.map((l) => [l.lineNo, lineReason(l.reason, words)]))}
          />
          {kit.state === "issued" ? (
            <>
              {missing.length > 0 && !isLead ? (
                <MissingPanel visitId={visitId} lines={missing} placeName={kit.placeName} vehicles={loaded} />
              ) : null}
              <Panel
                title={t("On the vehicle")}
                note={t("Issued less used, returned and put on hold as faulty.")}
                flush
              >
                <ScrollRegion label={t("Issued material")}>
                  <table className="ui-facts">
                    <thead>
                      <tr>
                        <th scope="col">{t("Item")}</th>
                        <th scope="col">{t("Lot")}</th>
                        <th scope="col">{t("Vehicle")}</th>
                        <th scope="col" data-align="end">
                          {t("Issued")}
                        </th>
                        <th scope="col" data-align="end">
                          {t("Used")}
                        </th>
                        <th scope="col" data-align="end">
                          {t("Returned")}
                        </th>
                        <th scope="col" data-align="end">
                          {t("On hold (piece)")}
                        </th>
                        <th scope="col" data-align="end">
                          {t("Still out")}
                        </th>
                      </tr>
                    </thead>
                    <tbody>
                      {issued.map((r) => (
                        <tr key={`${r.itemCode} ${r.lotCode} ${r.vehiclePlace}`}>
                          <th scope="row">
                            {r.itemCode} <small>{r.name}</small>
                            {r.serials.length > 0 ? (
                              <small className="block">
                                {t("Serials: {{serials}}.", { serials: r.serials.join(", ") })}
                              </small>
                            ) : null}
                          </th>
                          <td>{r.lotCode || "–"}</td>
                          <td>{r.vehiclePlace}</td>
                          <td data-align="end">{amount(r.issuedC / 100, r.unit)}</td>
                          <td data-align="end">{amount(r.usedC / 100, r.unit)}</td>
                          <td data-align="end">{amount(r.returnedC / 100, r.unit)}</td>
                          <td data-align="end">{amount(r.heldC / 100, r.unit)}</td>
                          <td data-align="end">{amount(r.outC / 100, r.unit)}</td>
                        </tr>
                      ))}
                    </tbody>
                  </table>
                </ScrollRegion>
              </Panel>
              {!isLead && runsOut.length + runsLost.length > 0 ? (
                <LostRunsPanel visitId={visitId} lines={[...runsLost, ...runsOut]} />
              ) : null}
              {isLead ? null : (
                <ReturnPanel
                  visitId={visitId}
                  rows={issued.filter((r) => r.backC > 0)}
                  warehouses={places.filter((p) => p.kind === "warehouse")}
                  toPlace={kit.placeCode}
                  mayUndo={!issued.some((r) => r.returnedC + r.usedC + r.heldC > 0)}
                />
              )}
            </>
          ) : isLead ? null : (
            <IssuePanel
              visitId={visitId}
              picked={kit.lines.filter((l) => l.pickedC > 0).length}
              isShort={kit.lines.some((l) => !l.isWhole || isLeftOut(l.notOpened))}
              vehiclePlace={kit.vehiclePlace}
              vehicles={places.filter((p) => p.kind === "vehicle")}
            />
          )}
        </div>
      )}
    </>
  );
}

function shortLimit(short: readonly KitLineView[], { t, amount }: Words): string {
  const lost = short.find((l) => l.lostC > 0);
  if (lost) return t("{{quantity}} on hold by a fault", { quantity: amount(lost.lostC / 100, lost.unit) });
  return short[0] ? t("first {{item}}", { item: short[0].itemCode }) : t("everything is there");
}

/** "1 line short: 1 piece on hold by a fault" */
function lostWords(short: readonly KitLineView[], { t, amount }: Words): string {
  const held = short.filter((l) => l.lostC > 0).map((l) => amount(l.lostC / 100, l.unit));
  return t("{{lines}}: {{quantity}} on hold by a fault", {
    lines: t("{{count}} lines short", { count: short.length }),
    quantity: held.join(", "),
  });
}

/** The plan's cable comes too late for it, and it is not cut yet. */
const isRunShort = (l: KitLineView) => l.runId !== null && l.cut === null && l.shortC > 0;

function shortWords(l: KitLineView, kit: KitView, words: Words): string {
  const { t, amount, locale } = words;
  if (l.notOpened) return notOpenedWords(l.notOpened, words, kit.state === "issued");
  if (l.cutPlace && l.cut)
    return kit.state === "issued"
      ? t("its run was cut at {{place}} and did not come over.", { place: l.cutPlace })
      : t(
          "its run was cut at {{place}} on {{day}} and has not come over yet: tick it off when it lies here.",
          {
            place: l.cutPlace,
            day: formatDate(l.cut.effectiveOn, "weekday", locale),
          },
        );
  if (l.lostC > 0) {
    const held = t("{{quantity}} on hold by a fault, not replaced yet.", {
      quantity: amount(l.lostC / 100, l.unit),
    });
    const rest = l.lacksC - l.lostC;
    return rest > 0
      ? `${held} ${t("{{quantity}} not in the box.", { quantity: amount(rest / 100, l.unit) })}`
      : held;
  }
  if (l.lostRun && !l.cut)
    return t("its run was lost: {{reason}}. Another must be cut.", { reason: l.lostRun.reason });
  if (kit.state === "issued" && l.runId)
    return l.cut ? t("its run is cut and goes after the kit.") : t("its run is not cut yet.");
  if (kit.state === "issued")
    return t("{{quantity}} not in the box.", { quantity: amount(l.lacksC / 100, l.unit) });
  if (l.runId)
    return l.drumPlace
      ? t("its run is cut at {{place}} and comes over too late.", { place: l.drumPlace })
      : t("its run comes from a drum that is still to be bought, or too late.");
  const parts: string[] = [];
  if (l.missingC > 0)
    parts.push(
      t("{{quantity}} not on the shelf of {{place}}", {
        quantity: amount(l.missingC / 100, l.unit),
        place: kit.placeName,
      }),
    );
  if (l.shortC > 0)
    parts.push(t("{{quantity}} not covered on the pick day", { quantity: amount(l.shortC / 100, l.unit) }));
  const transfer = transferWords(l, words);
  if (transfer) parts.push(transfer);
  else
    for (const e of l.elsewhere)
      parts.push(
        t("{{place}} holds {{quantity}}", {
          place: e.placeCode,
          quantity: amount(e.quantityC / 100, l.unit),
        }),
      );
  return `${parts.join("; ")}.`;
}

const isCutHere = (
  l: KitLineView,
): l is KitLineView & { marks: NonNullable<KitLineView["marks"]>; drumSerial: string } =>
  l.runId !== null && Boolean(l.marks && l.drumSerial);

/** What a line adds to the count of the box, short enough for a column. */
function countsAsWords({ countedAs, things }: KitLineView, t: Words["t"]): string {
  if (countedAs === "bag") return t("1 bag");
  if (countedAs === "length") return t("1 length");
  return countedAs === "run" ? t("1 run") : String(things);
}

async function Sheet({ kit, notice }: { kit: KitView; notice: ReactNode }) {
  const words = await serverWords();
  const { t, locale, amount } = words;
  const items = kit.lines.filter((l) => !l.runId);
  const runs = kit.lines.filter((l) => l.runId);
  return (
    <div className="grid grid-cols-1 gap-3">
      <p className="ui-no-print text-quiet">
        {t(
          "Print it with the browser, on A4 or Letter: one page, or more for a long kit. It is this moment's list; a later netting may change it.",
        )}
      </p>
      <PickSheet
        words={words}
        notice={notice}
        kitCode={kitName(kit, t)}
        hopCode={kit.hopCode}
        end={t(`${kit.side} end`)}
        siteCode={kit.siteCode}
        siteName={kit.siteName}
        crewCode={kit.crewCode ?? undefined}
        depot={`${kit.placeCode} ${kit.placeName}`}
        neededOn={kit.startOn ?? kit.pickOn}
        massKg={kit.massKg}
        heaviestKg={Math.max(0, ...items.map((l) => (l.unit === "m" ? 0 : l.massKg)))}
        lines={kit.lines
          // A run to cut here has its box among the cuts.
          .filter((l) => !isCutHere(l))
          .map((l) => ({
            lineNo: l.lineNo,
            itemCode: l.itemCode,
            name: l.runId ? `${l.name}, ${l.runId.replaceAll("/", " ")}` : l.name,
            quantity: (l.runId ? (l.cut?.quantityC ?? l.neededC) : l.pickedC || l.boxC || l.neededC) / 100,
            unit: l.unit,
            isOnVehicle: ridesOpened(l),
            countsAs: ridesOpened(l) ? "–" : countsAsWords(l, t),
            from: ridesOpened(l)
              ? isLeftOut(l.notOpened)
                ? t("not on the vehicle")
                : t("opened on the vehicle")
              : l.runId && (l.cut?.drumSerial ?? l.drumSerial)
                ? t("drum {{drum}}", { drum: l.cut?.drumSerial ?? l.drumSerial ?? "" })
                : l.sources
                    .map((s) => s.lotCode)
                    .filter(Boolean)
                    .join(", ") || undefined,
            note:
              [
                l.missingC > 0
                  ? t("short {{quantity}}", { quantity: amount(l.missingC / 100, l.unit) })
                  : undefined,
                transferWords(l, words),
                l.serials.length > 0
                  ? t("serials {{serials}}", { serials: l.serials.join(", ") })
                  : undefined,
                takenFromOthers(l, words),
              ]
                .filter(Boolean)
                .join(". ") || undefined,
          }))}
        cuts={runs.flatMap((l) =>
          isCutHere(l)
            ? [
                {
                  drumSerial: l.drumSerial,
                  cableCode: l.itemCode,
                  runLabel: l.runId!.replaceAll("/", " "),
                  lengthCm: l.neededC,
                  fromMarkCm: l.marks.fromCm,
                  toMarkCm: l.marks.toCm,
                },
              ]
            : [],
        )}
        cautions={runs
          .filter((l) => !l.marks || l.drumPlace || isRunShort(l))
          .map((l) =>
            l.cutPlace
              ? t("Run {{run}}: cut at {{place}}, not come over yet.", {
                  run: l.runId!.replaceAll("/", " "),
                  place: l.cutPlace,
                })
              : l.drumPlace
                ? t("Run {{run}}: its drum stands at {{place}}; cut there, the coil comes over.", {
                    run: l.runId!.replaceAll("/", " "),
                    place: l.drumPlace,
                  })
                : l.cut
                  ? t("Run {{run}}: cut already, {{quantity}} from {{drum}}.", {
                      run: l.runId!.replaceAll("/", " "),
                      quantity: amount(l.cut.quantityC / 100, "m"),
                      drum: l.cut.drumSerial,
                    })
                  : l.drumSerial
                    ? t("Run {{run}}, {{quantity}}: short, its drum {{drum}} gives it too late.", {
                        run: l.runId!.replaceAll("/", " "),
                        quantity: amount(l.neededC / 100, "m"),
                        drum: l.drumSerial,
                      })
                    : t("Run {{run}}, {{quantity}}: short, no drum on hand gives it yet.", {
                        run: l.runId!.replaceAll("/", " "),
                        quantity: amount(l.neededC / 100, "m"),
                      }),
          )}
        madeBy={pickWords(
          kit,
          {
            day: formatDate(kit.pickOn, "full", locale),
            place: kit.placeName,
          },
          t,
        )}
      />
    </div>
  );
}
