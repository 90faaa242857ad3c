"use client";

import { useState } from "react";
import type { CalendarDate } from "@/lib/time";
import { Select } from "../Field";
import { formatDate, formatNumber, formatShare, formatWeek } from "../format";
import { useWords } from "../language/LanguageProvider";
import { ChartFrame } from "./ChartFrame";
import { AXIS, GRID, INK, MARGIN, TIP } from "./look";

export interface CrewLoad {
  id: string;
  code: string;
  /** One entry per week of `weeks`. Minutes. */
  weeks: readonly { workMin: number; travelMin: number; capacityMin: number }[];
}

export interface CrewLoadChartProps {
  /** Mondays, in order. */
  weeks: readonly CalendarDate[];
  crews: readonly CrewLoad[];
  title?: string;
  /** Heading level of the title: 3 under a titled panel, 2 without one. */
  level?: 2 | 3 | 4;
  height?: number;
  locale?: string;
}

/** Hours of work and travel per week against what the crews can give; all together or one crew. */
export function CrewLoadChart(props: CrewLoadChartProps) {
  const { t, locale } = useWords();
  const { weeks, crews, title = t("Load against capacity by week"), height = 280 } = props;
  const [crewId, setCrewId] = useState("");
  const chosen = crewId ? crews.filter((crew) => crew.id === crewId) : crews;
  const hours = (minutes: number): string => formatNumber(minutes / 60, 0, locale);
  const data = weeks.map((monday, at) => {
    const sum = (pick: (week: CrewLoad["weeks"][number]) => number): number =>
      chosen.reduce((total, crew) => total + (crew.weeks[at] ? pick(crew.weeks[at]) : 0), 0);
    return {
      week: formatWeek(monday, false, locale),
      monday,
      work: sum((w) => w.workMin) / 60,
      travel: sum((w) => w.travelMin) / 60,
      capacity: sum((w) => w.capacityMin) / 60,
    };
  });
  return (
    <ChartFrame
      title={title}
      level={props.level}
      axes={t("hours, by ISO week")}
      height={height}
      actions={
        <div className="w-40">
          <Select
            label={t("Crew")}
            hideLabel
            value={crewId}
            onChange={(event) => setCrewId(event.target.value)}
            empty={t("All crews")}
            choices={crews.map((crew) => ({ value: crew.id, label: crew.code }))}
          />
        </div>
      }
      keyEntries={[
        { label: t("Work"), colour: INK.done, shape: "bar" },
        { label: t("Travel"), colour: INK.promise, shape: "area" },
        { label: t("Capacity"), colour: INK.planned, shape: "line" },
      ]}
      figures={{
        caption: t("Hours loaded of hours available, by crew and week"),
        head: [
          { label: t("Crew") },
          ...weeks.map((w) => ({ label: formatWeek(w, true, locale), align: "end" as const })),
        ],
        rows: crews.map((crew) => [
          crew.code,
          ...weeks.map((_, at) => {
            const week = crew.weeks[at];
            if (!week || week.capacityMin === 0) return t("off");
            const loadMin = week.workMin + week.travelMin;
            return t("{{load}} of {{capacity}} h ({{share}})", {
              load: hours(loadMin),
              capacity: hours(week.capacityMin),
              share: formatShare(loadMin / week.capacityMin, 0, locale),
            });
          }),
        ]),
      }}
    >
      {({ Bar, CartesianGrid, ComposedChart, Line, Tooltip, XAxis, YAxis }) => (
        <ComposedChart data={data} margin={MARGIN} title={title} barCategoryGap="25%">
          <CartesianGrid {...GRID} />
          <XAxis {...AXIS} dataKey="week" minTickGap={8} />
          <YAxis {...AXIS} width={52} tickFormatter={(n: number) => formatNumber(n, 0, locale)} />
          <Tooltip
            {...TIP}
            cursor={{ fill: "var(--sunk)" }}
            labelFormatter={(week, items) =>
              t("{{week}}, from {{day}}", {
                week: String(week),
                day: formatDate(items?.[0]?.payload?.monday as CalendarDate, "day", locale),
              })
            }
            formatter={(value) => `${formatNumber(Number(value), 1, locale)} h`}
          />
          <Bar dataKey="work" name={t("Work")} stackId="load" fill={INK.done} isAnimationActive={false} />
          <Bar
            dataKey="travel"
            name={t("Travel")}
            stackId="load"
            fill={INK.promise}
            fillOpacity={0.3}
            stroke={INK.promise}
            isAnimationActive={false}
          />
          <Line
            dataKey="capacity"
            name={t("Capacity")}
            type="step"
            stroke={INK.planned}
            strokeWidth={2}
            dot={false}
            isAnimationActive={false}
          />
        </ComposedChart>
      )}
    </ChartFrame>
  );
}
