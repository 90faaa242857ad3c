"use client";

import Link from "next/link";
import { useRouter } from "next/navigation";
import { type ReactNode, useEffect, useState } from "react";
import { ask } from "@/app/_client/ask";
import { Button } from "@/app/_ui/Button";
import { SETTLED_WORDS, type Settled } from "@/app/_ui/board/settled";
import { formatClock, formatDate, formatHours } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { places, withParts } from "@/app/_ui/language/parts";
import { messageOf, problemWords, remedyOf } from "@/app/_ui/language/problemWords";
import type { Words } from "@/app/_ui/language/words";
import { Notice } from "@/app/_ui/Notice";
import type { BoardVisit } from "@/app/_ui/PlanBoard";
import { StateMark } from "@/app/_ui/StateMark";
import { useToast } from "@/app/_ui/Toast";
import { CLASS_WORDS, FACTOR_LOOK } from "@/app/_ui/weather/factors";
import { kitStateWords } from "@/app/(work)/kits/kitStateWords";
import type { CostChange, NamedVisit, StopByName } from "@/lib/programme";
import type { Problem } from "@/lib/result";
import type { CalendarDate } from "@/lib/time";
import { pin as pinVisits } from "./actions";
import { signed } from "./EffectShown";
import { causeKey, PromiseCauseText } from "./PromiseCauseText";
import type { VisitShown } from "./visit/route";
import { weatherOnTop } from "./weatherOnTop";

export interface VisitPanelProps {
  planId: number;
  revision: number;
  visit: BoardVisit;
  mayEdit: boolean;
  /** Why nobody may move it. */
  settled?: Settled;
  onMove: () => void;
  /** Choose the new place on the board itself. */
  onPick: () => void;
  onSelect: (id: string | undefined) => void;
}

/** One visit: where, who, when, how long, with what, in what weather, for which promise; and what may be done. */
export function VisitPanel(props: VisitPanelProps) {
  const words = useWords();
  const { t } = words;
  const { planId, revision, visit, mayEdit, settled, onMove, onPick, onSelect } = props;
  const router = useRouter();
  const toast = useToast();
  const [view, setView] = useState<VisitShown>();
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [isPinning, setIsPinning] = useState(false);

  useEffect(() => {
    let isCurrent = true;
    ask<VisitShown>("/plan/visit", { plan: planId, visit: visit.id }).then((answer) => {
      if (!isCurrent) return;
      if (answer.ok) setView(answer.value);
      else setProblems(answer.problems);
    });
    return () => {
      isCurrent = false;
    };
  }, [planId, visit.id]);

  async function pin(): Promise<void> {
    setIsPinning(true);
    const answer = await pinVisits({ planId, revision, visitIds: [visit.id], isPinned: !visit.isPinned });
    setIsPinning(false);
    const problem = answer.ok ? undefined : answer.problems[0];
    toast(
      problem
        ? { kind: "problem", text: problemWords(problem, words) }
        : {
            kind: "good",
            text: visit.isPinned
              ? t("Free: the next search may move it.")
              : t("Pinned: the next search leaves it here."),
          },
    );
    router.refresh();
  }

  const isPlaced = visit.crewId !== null;
  // What is done stays where it was; the search knows it no more.
  const mayMove = mayEdit && !view?.doneOn && !view?.visit.isWithdrawn;
  return (
    <div className="grid gap-4">
      {problems.map((p) => (
        <Notice key={p.message} kind="problem" announce title={messageOf(p, words)}>
          {remedyOf(p, words)}
        </Notice>
      ))}
      {isPlaced ? null : (
        <Notice kind="hold" title={t("Not placed: {{rule}}", { rule: visit.rule ?? "" })}>
          {visit.detail}
        </Notice>
      )}
      {view?.finish?.hold ? (
        <Notice kind="hold" title={t("The hop is on hold until the next plan")}>
          {t("put on hold by {{name}}: {{reason}}", {
            name: view.finish.hold.by,
            reason: view.finish.hold.reason,
          })}
        </Notice>
      ) : null}
      {mayMove ? (
        <div className="flex flex-wrap gap-2">
          <Button kind="primary" onClick={onMove} disabled={settled !== undefined}>
            {t("Move …")}
          </Button>
          <Button onClick={onPick} disabled={settled !== undefined}>
            {t("Choose on the board")}
          </Button>
          {isPlaced ? (
            <Button glyph="pinned" onClick={pin} busy={isPinning} aria-pressed={visit.isPinned}>
              {visit.isPinned ? t("Unpin") : t("Pin")}
            </Button>
          ) : null}
        </div>
      ) : null}
      {mayEdit && settled ? <p className="text-quiet">{t(SETTLED_WORDS[settled])}</p> : null}
      {view ? (
        <Facts view={view} visit={visit} onSelect={onSelect} />
      ) : (
        <FactsComing failed={problems.length > 0} />
      )}
      {mayMove ? <WhyHere planId={planId} visitId={visit.id} isPlaced={isPlaced} /> : null}
      <p className="text-quiet">
        {t(
          "A planning aid: hours within the planning limits are no leave to climb. The crew on site decides; local rules, the site owner and the makers' instructions come first.",
        )}
      </p>
    </div>
  );
}

/** Keeps the room that the facts will take. */
function FactsComing({ failed }: { failed: boolean }) {
  const { t } = useWords();
  return failed ? null : (
    <div className="min-h-96" aria-busy="true">
      <span className="ui-spinner" aria-hidden="true" /> {t("Reading the visit")}
    </div>
  );
}

function Facts({
  view,
  visit,
  onSelect,
}: {
  view: VisitShown;
  visit: BoardVisit;
  onSelect: VisitPanelProps["onSelect"];
}) {
  const words = useWords();
  const { t, locale, amount } = words;
  const { visit: v, kit, finish } = view;
  const isNeverIssued = view.doneOn !== null && kit?.state !== "issued";
  const facts: [string, ReactNode][] = [
    [
      t("Site"),
      <Link
        key="s"
        href={`/sites/${encodeURIComponent(v.siteCode)}`}
      >{`${v.siteCode} ${view.siteName}`}</Link>,
    ],
    [
      t("Hop"),
      <>
        <Link key="h" href={`/hops/${encodeURIComponent(v.hopCode)}`}>
          {v.hopCode}
        </Link>
        , {v.side === "near" ? t("near end") : t("far end")}
      </>,
    ],
    [t("Work"), t(v.kind)],
    [
      t("Crew"),
      <>
        {v.crewCode ? `${v.crewCode} ${view.crewName ?? ""}` : t("none")}
        {visit.crewShort ? (
          <div>
            <StateMark state="late" isFreeText>
              {visit.crewShort}
            </StateMark>
          </div>
        ) : null}
      </>,
    ],
  ];
  if (v.startOn) {
    const end =
      v.endOn === v.startOn
        ? formatClock(v.endMin)
        : `${formatDate(v.endOn, "weekday", locale)} ${formatClock(v.endMin)}`;
    facts.push([
      t("When"),
      <>
        {t("{{day}}, {{start}} to {{end}} ({{zone}})", {
          day: formatDate(v.startOn, "full", locale),
          start: formatClock(v.startMin),
          end,
          zone: view.zone,
        })}
        {!view.setupMin ? null : (
          <div className="text-quiet">
            {t("on site from about {{clock}}: {{setup}} min of set-up before the work begins", {
              clock: formatClock(view.onSiteFromMin),
              setup: Math.ceil(view.setupMin),
            })}
            {t("; the planned times contain the crew's pace, weather and breaks in the work")}
          </div>
        )}
      </>,
    ]);
  }
  facts.push(
    [
      t("On site with set-up"),
      view.p50Min === null
        ? t("{{hours}} by the norms", { hours: formatHours(v.durationMin, locale) })
        : t("{{hours}} by the norms, P50 {{p50}}", {
            hours: formatHours(v.durationMin, locale),
            p50: formatHours(view.p50Min, locale),
          }),
    ],
    [
      t("On site with set-up, P80"),
      view.p80Min === null ? t("not estimated") : formatHours(view.p80Min, locale),
    ],
    [t("Weather on top, P80"), weatherOnTop(view, words)],
    [
      t("Promise"),
      <>
        {view.promisedOn ? formatDate(view.promisedOn, "full", locale) : t("none")}
        {view.causes.map((cause) => (
          <div key={causeKey(cause)} className="text-quiet">
            <PromiseCauseText cause={cause} words={words} />
          </div>
        ))}
      </>,
    ],
    [t("Hop ends"), finishWords(finish, words)],
    [
      t("Site open"),
      t("{{from}} to {{to}}", {
        from: formatClock(view.access.fromMin),
        to: formatClock(view.access.toMin),
      }) +
        (view.access.noticeDays > 0 ? t(", {{count}} days notice", { count: view.access.noticeDays }) : ""),
    ],
  );
  if (v.isWithdrawn) facts.push([t("State"), t("withdrawn: not needed any more")]);
  if (view.doneOn) facts.push([t("Reported done"), formatDate(view.doneOn, "full", locale)]);
  return (
    <>
      <dl className="grid grid-cols-[9rem_minmax(0,1fr)] gap-x-3 gap-y-1">
        {facts.map(([term, fact]) => (
          <div key={term} className="contents">
            <dt className="text-quiet">{term}</dt>
            <dd className="m-0">{fact}</dd>
          </div>
        ))}
      </dl>
      {visit.togetherId ? (
        <Button size="small" onClick={() => onSelect(visit.togetherId)}>
          {t("Show the other end")}
        </Button>
      ) : null}
      {view.weather ? <DayHours weather={view.weather} /> : null}
      {kit ? (
        <section className="grid gap-1" aria-label={t("Kit")}>
          <h3>{t("Kit")}</h3>
          <p>
            <StateMark
              state={
                isNeverIssued
                  ? "warn"
                  : view.shortItems.length > 0
                    ? "short"
                    : kit.state === "issued"
                      ? "done"
                      : "planned"
              }
            >
              {[
                ...(isNeverIssued ? [t("No kit issued by the books")] : []),
                ...(view.shortItems.length > 0
                  ? [t("short of {{count}} items", { count: view.shortItems.length })]
                  : []),
                ...(!isNeverIssued && (view.shortItems.length === 0 || kit.state === "picked")
                  ? [kitStateWords({ state: kit.state, ...view.picked }, t)]
                  : []),
              ].join("; ")}
            </StateMark>{" "}
            {t("Pick day {{day}}, at {{place}}", {
              day: formatDate(kit.pickOn, "weekday", locale),
              place: kit.placeCode,
            })}
            {view.kitWholeOn && !view.doneOn
              ? t(", can be whole from {{day}} if the transfers and orders of Stock go out in time", {
                  day: formatDate(view.kitWholeOn, "weekday", locale),
                })
              : ""}
            . <Link href={`/kits/${encodeURIComponent(v.visitId)}`}>{t("Pick list")}</Link>
          </p>
          {view.shortItems.length > 0 ? (
            <ul>
              {view.shortItems.map((i) => (
                <li key={`${i.itemCode}${i.name}`}>
                  {withParts(
                    i.transferOn !== null
                      ? t("{{item}} lacks {{amount}}; a transfer can bring it by {{day}}", {
                          ...places("item"),
                          amount: amount(i.shortC / 100, i.unit),
                          day: formatDate(i.transferOn, "weekday", locale),
                        })
                      : t("{{item}} lacks {{amount}}; ordered today it comes on {{day}} ({{days}})", {
                          ...places("item"),
                          amount: amount(i.shortC / 100, i.unit),
                          day: formatDate(i.comesOn, "weekday", locale),
                          days: t("{{count}} days", { count: i.leadTimeDays }),
                        }),
                    {
                      item: (
                        <>
                          <Link href={`/stock/items/${encodeURIComponent(i.itemCode)}`}>{i.itemCode}</Link>{" "}
                          {i.name}
                        </>
                      ),
                    },
                  )}
                </li>
              ))}
            </ul>
          ) : null}
        </section>
      ) : null}
    </>
  );
}

/** As the hop's page says it. */
function finishWords(finish: VisitShown["finish"], { t, locale, daysLate }: Words): string {
  const day = (on: CalendarDate | undefined) => formatDate(on, "weekday", locale);
  const when = finish?.hold
    ? t("on hold until the next plan")
    : finish?.opensOn
      ? t("not before {{day}}: planned {{planned}}, before its gate", {
          day: day(finish.opensOn),
          planned: day(finish.finishOn),
        })
      : finish?.finishOn
        ? day(finish.finishOn)
        : t("not planned to its end");
  return finish?.daysLate === undefined ? when : `${when}, ${daysLate(finish.daysLate)}`;
}

/** The site's open hours of the visit's day, hour by hour: a sign and a letter, never colour alone. */
function DayHours({ weather: { days, workClass } }: { weather: NonNullable<VisitShown["weather"]> }) {
  const { t, locale } = useWords();
  return (
    <section className="grid gap-1" aria-label={t("Hours of the day")}>
      <h3>{t("Hours within the planning limits")}</h3>
      {days.map(({ on, fromMin, toMin, day }) => (
        <div key={on} className="grid gap-1">
          <p>
            {t("{{day}}, {{work}}: {{met}} of {{of}} h", {
              day: formatDate(on, "weekday", locale),
              work: t(CLASS_WORDS[workClass]),
              met: day.metH,
              of: day.ofH,
            })}
            {day.factor === "none"
              ? ""
              : t("; {{factor}} takes most of the others", { factor: t(FACTOR_LOOK[day.factor].word) })}
            {t(". Underlined: the hours of the visit.")}
          </p>
          <ol className="flex flex-wrap gap-1 list-none p-0 m-0">
            {day.hours.map((h) => {
              const isOwn = h.hour * 60 < toMin && (h.hour + 1) * 60 > fromMin;
              const words = h.isMet ? t("limits met") : t(FACTOR_LOOK[h.factor].word);
              return (
                <li
                  key={h.hour}
                  className="grid justify-items-center gap-0.5 pb-1 text-sm border-b-2"
                  style={{ borderColor: isOwn ? "currentColor" : "transparent" }}
                  title={`${h.hour}:00 ${words}`}
                >
                  <span className="text-quiet">{String(h.hour).padStart(2, "0")}</span>
                  <span className="ui-tag" data-tone={h.isMet ? "good" : "problem"}>
                    {h.isMet ? t("ok") : FACTOR_LOOK[h.factor].letter}
                    <span className="sr-only">{words}</span>
                  </span>
                </li>
              );
            })}
          </ol>
        </div>
      ))}
    </section>
  );
}

interface Why {
  places: { visit: NamedVisit; other?: NamedVisit; total: number; changes: CostChange[] }[];
  impossible: number;
  stops: StopByName[];
  bindingItem?: string;
}

/** The cheapest other places and what each would change. On demand: it takes the server a moment. */
function WhyHere({ planId, visitId, isPlaced }: { planId: number; visitId: string; isPlaced: boolean }) {
  const words = useWords();
  const { t, locale } = words;
  const [why, setWhy] = useState<Why>();
  const [problem, setProblem] = useState<Problem>();
  const [isAsking, setIsAsking] = useState(false);

  async function look(): Promise<void> {
    setIsAsking(true);
    const answer = await ask<Why>("/plan/why", { plan: planId, visit: visitId });
    setIsAsking(false);
    if (answer.ok) setWhy(answer.value);
    else setProblem(answer.problems[0]);
  }

  return (
    <section className="grid gap-2" aria-label={t("Why here")}>
      <h3>{isPlaced ? t("Why here") : t("Where it could go")}</h3>
      {why ? null : (
        <div>
          <Button onClick={look} busy={isAsking}>
            {t("Try every other crew and day")}
          </Button>
        </div>
      )}
      <div aria-live="polite" className="grid gap-2">
        {problem ? (
          <Notice kind="problem" title={messageOf(problem, words)}>
            {remedyOf(problem, words)}
          </Notice>
        ) : null}
        {why ? (
          <>
            {why.bindingItem ? (
              <p>
                {withParts(t("Its kit waits longest for {{item}}.", places("item")), {
                  item: (
                    <Link href={`/stock/items/${encodeURIComponent(why.bindingItem)}`}>
                      {why.bindingItem}
                    </Link>
                  ),
                })}
              </p>
            ) : null}
            {why.places.length === 0 ? (
              <p>{t("No other crew and day holds it with everything else staying where it is.")}</p>
            ) : (
              <ul className="grid gap-2 list-none p-0 m-0">
                {why.places.map((p) => (
                  <li key={`${p.visit.crewCode}${p.visit.startOn}`}>
                    <strong>
                      {p.visit.crewCode}, {formatDate(p.visit.startOn, "weekday", locale)}{" "}
                      {formatClock(p.visit.startMin)}
                    </strong>
                    {p.other ? t(" with {{crew}} at the other end", { crew: p.other.crewCode }) : ""}
                    {p.total > 0 ? t(": costs more") : t(": costs less")}
                    <br />
                    <span className="text-quiet">
                      {p.changes.length === 0
                        ? t("no term changes by more than rounding")
                        : p.changes
                            .map((c) => `${t(c.label)} ${signed(c.after - c.before, locale)} ${t(c.unit)}`)
                            .join("; ")}
                    </span>
                  </li>
                ))}
              </ul>
            )}
            <p className="text-quiet">
              {t(
                "{{count}} crew days hold no place for it. Everything else stays where it is in these trials.",
                { count: why.impossible },
              )}
            </p>
            {why.stops.length > 0 ? (
              <ul aria-label={t("What stops it there")}>
                {why.stops.map(({ rule, crewDays, example }) => (
                  <li key={rule}>
                    <strong>{rule}</strong>: {t("{{count}} crew days", { count: crewDays })}
                    <br />
                    <span className="text-quiet">
                      {t("such as {{crew}} on {{day}}: {{why}}", {
                        crew: example.crewCode,
                        day: formatDate(example.on, "weekday", locale),
                        why: example.text,
                      })}
                    </span>
                  </li>
                ))}
              </ul>
            ) : null}
          </>
        ) : null}
      </div>
    </section>
  );
}
