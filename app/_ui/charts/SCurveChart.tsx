"use client";

import { type CalendarDate, dayNumber } from "@/lib/time";
import { formatDate, formatNumber } from "../format";
import { useWords } from "../language/LanguageProvider";
import { ChartFrame } from "./ChartFrame";
import { AXIS, dayLabel, dayTick, GRID, INK, MARGIN, markLabel, TIP } from "./look";
import { dateTicks } from "./ticks";

/** Counts of hops finished up to and including a date. Leave out what is not known on it. */
export interface SCurvePoint {
  on: CalendarDate;
  done?: number;
  planned?: number;
  promised?: number;
  /** Reached by then with half of the simulated runs, and with four out of five. p80 <= p50. */
  p50?: number;
  p80?: number;
}

export interface SCurveChartProps {
  /** In date order. */
  points: readonly SCurvePoint[];
  today?: CalendarDate;

  title?: string;
  /** Heading level of the title: 3 under a titled panel, 2 without one. */
  level?: 2 | 3 | 4;
  height?: number;
  locale?: string;
}

/** Done against plan and promise over time, with the P50 to P80 band of what the simulation expects. */
export function SCurveChart(props: SCurveChartProps) {
  const { t, locale } = useWords();
  const { points, today, title = t("Done against plan and promise"), height = 300 } = props;
  const count = (value: number | undefined): string => formatNumber(value, 0, locale);
  const data = points.map((point) => ({
    ...point,
    day: dayNumber(point.on),
    band: point.p50 !== undefined && point.p80 !== undefined ? [point.p80, point.p50] : undefined,
  }));
  const first = points[0];
  const last = points.at(-1);
  const hasBand = data.some((point) => point.band !== undefined);
  return (
    <ChartFrame
      title={title}
      level={props.level}
      axes={t("hops finished, over time")}
      height={height}
      keyEntries={[
        { label: t("Done"), colour: INK.done, shape: "line" },
        { label: t("Planned"), colour: INK.planned, shape: "line", dash: "6 3" },
        { label: t("Promised"), colour: INK.promise, shape: "line", dash: "2 3" },
        ...(hasBand ? [{ label: t("Expected, P50 to P80"), colour: INK.band, shape: "area" as const }] : []),
      ]}
      figures={{
        caption: t("hops finished by date"),
        head: [
          { label: t("Date") },
          { label: t("Done"), align: "end" },
          { label: t("Planned"), align: "end" },
          { label: t("Promised"), align: "end" },
          { label: t("Expected P50"), align: "end" },
          { label: t("Expected P80"), align: "end" },
        ],
        rows: points.map((p) => [
          formatDate(p.on, "full", locale),
          count(p.done),
          count(p.planned),
          count(p.promised),
          count(p.p50),
          count(p.p80),
        ]),
      }}
    >
      {({ Area, CartesianGrid, ComposedChart, Line, ReferenceLine, Tooltip, XAxis, YAxis }) => (
        <ComposedChart data={data} margin={MARGIN} title={title}>
          <CartesianGrid {...GRID} />
          <XAxis
            {...AXIS}
            dataKey="day"
            type="number"
            domain={["dataMin", "dataMax"]}
            ticks={first && last ? [...dateTicks(first.on, last.on, 9)] : []}
            tickFormatter={(day: number) => dayTick(day, locale)}
          />
          <YAxis {...AXIS} width={48} allowDecimals={false} tickFormatter={(n: number) => count(n)} />
          <Tooltip
            {...TIP}
            labelFormatter={(day) => dayLabel(day, locale)}
            formatter={(value) =>
              Array.isArray(value) ? value.map((n) => count(Number(n))).join(t(" to ")) : count(Number(value))
            }
          />
          <Area
            dataKey="band"
            name={t("Expected, P80 to P50")}
            fill={INK.band}
            fillOpacity={0.22}
            stroke={INK.band}
            strokeWidth={1}
            connectNulls
            isAnimationActive={false}
          />
          <Line
            dataKey="promised"
            name={t("Promised")}
            type="stepAfter"
            stroke={INK.promise}
            strokeWidth={2}
            strokeDasharray="2 3"
            dot={false}
            connectNulls
            isAnimationActive={false}
          />
          <Line
            dataKey="planned"
            name={t("Planned")}
            stroke={INK.planned}
            strokeWidth={2}
            strokeDasharray="6 3"
            dot={false}
            connectNulls
            isAnimationActive={false}
          />
          <Line
            dataKey="done"
            name={t("Done")}
            stroke={INK.done}
            strokeWidth={3}
            dot={false}
            isAnimationActive={false}
          />
          {today ? (
            <ReferenceLine
              x={dayNumber(today)}
              stroke={INK.quiet}
              label={markLabel(t("Today"), "var(--quiet)")}
            />
          ) : null}
        </ComposedChart>
      )}
    </ChartFrame>
  );
}
