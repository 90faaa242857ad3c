"use client";

import { addDays, type CalendarDate, dayNumber } from "@/lib/time";
import { formatDate, formatNumber } from "../format";
import { useWords } from "../language/LanguageProvider";
import { ChartFrame } from "./ChartFrame";
import { AXIS, dayLabel, dayTick, GRID, INK, MARGIN, markLabel, TIP } from "./look";
import { dateTicks } from "./ticks";

export interface StockProjectionChartProps {
  itemName: string;
  unit: string;
  firstDay: CalendarDate;
  /** One balance a day from `firstDay`, in `unit`; negative = short. */
  withoutOrders: readonly number[];
  withOrders?: readonly number[];
  safetyStock?: number;
  /** Day index on which the balance without orders first falls below zero. */
  runsOutDay?: number;
  /** Visits that stop for it. */
  stops?: readonly { day: number; siteCode: string; missing: number }[];
  /** Heading level of the title: 3 under a titled panel, 2 without one. */
  level?: 2 | 3 | 4;
  height?: number;
}

/** Balance of one item day by day, with and without new orders, and where work stops for want of it. */
export function StockProjectionChart(props: StockProjectionChartProps) {
  const { itemName, firstDay, withoutOrders, withOrders, safetyStock, runsOutDay, stops = [] } = props;
  const { height = 280 } = props;
  const { t, locale } = useWords();
  const unit = t(props.unit);
  const start = dayNumber(firstDay);
  const amount = (value: number | undefined): string => formatNumber(value, 1, locale);
  const data = withoutOrders.map((balance, day) => ({
    day: start + day,
    without: balance,
    with: withOrders?.[day],
  }));
  const lowest = Math.min(0, ...withoutOrders, ...(withOrders ?? []));
  const lastDay = addDays(firstDay, Math.max(0, withoutOrders.length - 1));
  const stopDays = new Map<number, string[]>();
  for (const stop of stops) stopDays.set(stop.day, [...(stopDays.get(stop.day) ?? []), stop.siteCode]);
  const title = t("Balance of {{item}}", { item: itemName });
  return (
    <ChartFrame
      title={title}
      level={props.level}
      lead={
        runsOutDay === undefined
          ? t("Lasts to the end of the plan without a new order.")
          : t("Without a new order it runs out on {{day}}.", {
              day: formatDate(addDays(firstDay, runsOutDay), "full", locale),
            })
      }
      axes={t("{{unit}}, by day", { unit })}
      height={height}
      keyEntries={[
        { label: t("Without new orders"), colour: INK.limit, shape: "line", dash: "5 3" },
        ...(withOrders
          ? [{ label: t("With proposed orders"), colour: INK.done, shape: "line" as const }]
          : []),
        ...(stops.length > 0
          ? [{ label: t("Work stops"), colour: INK.limit, shape: "down mark" as const }]
          : []),
      ]}
      figures={{
        caption: t("Balance of {{item}} in {{unit}}", { item: itemName, unit }),
        head: [
          { label: t("Date") },
          { label: t("Without orders"), unit, align: "end" },
          { label: t("With orders"), unit, align: "end" },
          { label: t("Stops for it") },
        ],
        rows: withoutOrders.map((balance, day) => [
          formatDate(addDays(firstDay, day), "full", locale),
          amount(balance),
          amount(withOrders?.[day]),
          stopDays.get(day)?.join(", ") ?? "",
        ]),
      }}
    >
      {({ CartesianGrid, ComposedChart, Line, ReferenceArea, ReferenceLine, Tooltip, XAxis, YAxis }) => (
        <ComposedChart data={data} margin={{ ...MARGIN, top: 20 }} title={title}>
          <CartesianGrid {...GRID} />
          {lowest < 0 ? <ReferenceArea y1={lowest} y2={0} fill="var(--brick)" fillOpacity={0.1} /> : null}
          <XAxis
            {...AXIS}
            dataKey="day"
            type="number"
            domain={["dataMin", "dataMax"]}
            ticks={[...dateTicks(firstDay, lastDay, 9)]}
            tickFormatter={(day: number) => dayTick(day, locale)}
          />
          <YAxis
            {...AXIS}
            width={56}
            allowDecimals={false}
            tickFormatter={(n: number) => formatNumber(n, 0, locale)}
          />
          <Tooltip
            {...TIP}
            labelFormatter={(day) => dayLabel(day, locale)}
            formatter={(value) => `${amount(Number(value))} ${unit}`}
          />
          <ReferenceLine y={0} stroke="var(--ink)" strokeWidth={1.5} />
          {safetyStock ? (
            <ReferenceLine
              y={safetyStock}
              stroke={INK.quiet}
              strokeDasharray="1 3"
              label={markLabel(t("Safety stock"), "var(--quiet)", "insideBottomRight")}
            />
          ) : null}
          <Line
            dataKey="without"
            name={t("Without new orders")}
            type="stepAfter"
            stroke={INK.limit}
            strokeWidth={2}
            strokeDasharray="5 3"
            dot={false}
            isAnimationActive={false}
          />
          {withOrders ? (
            <Line
              dataKey="with"
              name={t("With proposed orders")}
              type="stepAfter"
              stroke={INK.done}
              strokeWidth={2.5}
              dot={false}
              isAnimationActive={false}
            />
          ) : null}
          {[...stopDays.keys()].slice(0, 60).map((day) => (
            <ReferenceLine
              key={day}
              x={start + day}
              stroke={INK.limit}
              strokeWidth={1}
              strokeDasharray="1 4"
              label={{ value: "▼", position: "top", fill: "var(--brick)", fontSize: 11 }}
            />
          ))}
        </ComposedChart>
      )}
    </ChartFrame>
  );
}
