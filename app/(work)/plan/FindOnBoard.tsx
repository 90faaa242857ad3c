"use client";

import { useDeferredValue, useMemo, useState } from "react";
import { cellDayOf } from "@/app/_ui/board/geometry";
import { KIND_LOOK } from "@/app/_ui/board/types";
import { FindBox, type FindOption } from "@/app/_ui/FindBox";
import { formatDate } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import type { Words } from "@/app/_ui/language/words";
import type { BoardCrew, BoardVisit } from "@/app/_ui/PlanBoard";
import { type Findable, findable, findIn } from "@/lib/find";
import { addDays, type CalendarDate } from "@/lib/time";

export interface Found {
  crewId: string;
  day?: number;
  visitId?: string;
}

interface Thing extends Findable, FindOption {
  /** Where it stands on the board; undefined for a crew. */
  visits: readonly BoardVisit[];
  crewId?: string;
}

const MOST = 12;

/** Crews, sites, hops and visits of this board by a few letters; choosing one jumps to it. */
export function FindOnBoard(props: {
  crews: readonly BoardCrew[];
  visits: readonly BoardVisit[];
  firstDay: CalendarDate;
  todayDay?: number;
  onFound: (found: Found) => void;
}) {
  const words = useWords();
  const { t } = words;
  const { crews, visits, firstDay, todayDay = 0, onFound } = props;
  const [query, setQuery] = useState("");
  // Letters show at once; what they find may follow a frame later.
  const wanted = useDeferredValue(query);
  const isUsed = wanted !== "";
  // Thousands of texts are folded only when somebody begins to look for one.
  const things = useMemo(
    () => (isUsed ? thingsOf(crews, visits, firstDay, words) : []),
    [isUsed, crews, visits, firstDay, words],
  );
  const options = useMemo(() => {
    const found = findIn(things, wanted, MOST);
    const groups = [words.t("Crews"), words.t("Hops"), words.t("Sites"), words.t("Visits")];
    return found.sort((a, b) => groups.indexOf(a.group) - groups.indexOf(b.group));
  }, [things, wanted, words]);

  function choose(thing: Thing): void {
    setQuery("");
    if (thing.crewId !== undefined) {
      onFound({ crewId: thing.crewId });
      return;
    }
    const placed = thing.visits.filter((v) => v.crewId !== null).sort((a, b) => a.startDay - b.startDay);
    const next = placed.find((v) => v.endDay >= todayDay) ?? placed.at(-1) ?? thing.visits[0]!;
    onFound({ crewId: next.crewId ?? "", day: cellDayOf(next), visitId: next.id });
  }

  return (
    <FindBox
      label={t("Find on the board")}
      placeholder={t("Crew, hop, site or visit")}
      query={query}
      onQuery={setQuery}
      options={options}
      onChoose={choose}
      hint={isUsed && wanted === query ? t("Nothing on this board is called so.") : undefined}
    />
  );
}

function thingsOf(
  crews: readonly BoardCrew[],
  visits: readonly BoardVisit[],
  firstDay: CalendarDate,
  { t, locale }: Words,
): readonly Thing[] {
  const placeOf = (v: BoardVisit) =>
    v.crewId === null
      ? t("not placed")
      : `${v.crewId}, ${formatDate(addDays(firstDay, v.startDay), "weekday", locale)}`;
  const hops = visitsBy(visits, (v) => v.hopCode);
  const sites = visitsBy(visits, (v) => v.siteCode);
  const many =
    (group: string, glyph: Thing["glyph"]) =>
    ([code, own]: [string, BoardVisit[]]): Thing => ({
      ...findable(code),
      id: `${group} ${code}`,
      group,
      glyph,
      label: code,
      detail: t("{{count}} visits", { count: own.length }),
      visits: own,
    });
  return [
    ...crews.map(
      (c): Thing => ({
        ...findable(c.id, c.code),
        id: `crew ${c.id}`,
        group: t("Crews"),
        label: c.code,
        detail: c.note,
        crewId: c.id,
        visits: [],
      }),
    ),
    ...[...hops].map(many(t("Hops"), "planned")),
    ...[...sites].map(many(t("Sites"), "sites")),
    ...visits.map(
      (v): Thing => ({
        ...findable(v.id, `${v.siteCode} ${v.crewId ?? ""}`),
        id: v.id,
        group: t("Visits"),
        glyph: KIND_LOOK[v.kind].glyph,
        label: v.id,
        detail: placeOf(v),
        visits: [v],
      }),
    ),
  ];
}

function visitsBy(
  visits: readonly BoardVisit[],
  keyOf: (v: BoardVisit) => string,
): Map<string, BoardVisit[]> {
  const by = new Map<string, BoardVisit[]>();
  for (const visit of visits) {
    const list = by.get(keyOf(visit));
    if (list) list.push(visit);
    else by.set(keyOf(visit), [visit]);
  }
  return by;
}
