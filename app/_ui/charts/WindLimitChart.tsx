"use client";

import { localOf } from "@/lib/time";
import { formatClock, formatDate, formatInColumn, formatInstant, formatQuantity, zoneName } from "../format";
import { useWords } from "../language/LanguageProvider";
import { ChartFrame } from "./ChartFrame";
import { AXIS, GRID, INK, MARGIN, markLabel, TIP } from "./look";

const HOUR_MILLIS = 3_600_000;

export interface WindHour {
  /** Start of the hour, epoch milliseconds. */
  at: number;
  /** Mean wind and gust at mount height, m/s; null = no data (never fine weather). */
  windMs: number | null;
  gustMs: number | null;
  /** Do all limits of the work class hold in this hour? */
  workable: boolean;
}

export interface WindLimitChartProps {
  hours: readonly WindHour[];
  /** IANA zone of the site. */
  zone: string;
  mountHeightM: number;
  /** As the planner knows it: "work aloft". */
  workClass: string;
  windLimitMs?: number;
  gustLimitMs?: number;
  title?: string;
  /** Heading level of the title: 3 under a titled panel, 2 without one. */
  level?: 2 | 3 | 4;
  height?: number;
  locale?: string;
}

/** Stretches of hours with the same verdict. */
function stretches(hours: readonly WindHour[]): { from: number; to: number }[] {
  const out: { from: number; to: number }[] = [];
  for (const hour of hours) {
    if (!hour.workable) continue;
    const last = out.at(-1);
    if (last && last.to === hour.at) last.to += HOUR_MILLIS;
    else out.push({ from: hour.at, to: hour.at + HOUR_MILLIS });
  }
  return out;
}

/** Wind and gust at the mount hour by hour against the limits of a work class, workable stretches shaded. */
export function WindLimitChart(props: WindLimitChartProps) {
  const { t, locale: spoken } = useWords();
  const { hours, zone, mountHeightM, workClass, windLimitMs, gustLimitMs, height = 260 } = props;
  const { locale = spoken } = props;
  const heightWords = formatQuantity(mountHeightM, "m", 0, locale);
  const title =
    props.title ??
    t("Wind at {{height}} against the limit for {{work}}", { height: heightWords, work: workClass });
  const ms = (value: number | null | undefined): string => formatInColumn(value, "m/s", 1, locale);
  const first = hours[0];
  const last = hours.at(-1);
  const midnights = hours.filter((hour) => localOf(hour.at, zone).minuteOfDay === 0).map((hour) => hour.at);
  const everySixth = hours.filter((hour) => localOf(hour.at, zone).minuteOfDay % 360 === 0).map((h) => h.at);
  return (
    <ChartFrame
      title={title}
      level={props.level}
      axes={`${t("m/s at {{height}} above ground, by hour", { height: heightWords })}${first ? ` (${zoneName(first.at, zone, locale)})` : ""}`}
      height={height}
      keyEntries={[
        { label: t("Mean wind"), colour: INK.done, shape: "line" },
        { label: t("Gust"), colour: INK.promise, shape: "line", dash: "4 2" },
        { label: t("Workable stretch"), colour: INK.good, shape: "area" },
      ]}
      figures={{
        caption: t("Wind at {{height}} by hour", { height: heightWords }),
        head: [
          { label: t("Hour") },
          { label: t("Mean wind"), unit: "m/s", align: "end" },
          { label: t("Gust"), unit: "m/s", align: "end" },
          { label: t("Planning limits") },
        ],
        rows: hours.map((hour) => [
          formatInstant(hour.at, zone, locale),
          ms(hour.windMs),
          ms(hour.gustMs),
          hour.windMs === null ? t("no data") : hour.workable ? t("met") : t("not met"),
        ]),
      }}
    >
      {({ CartesianGrid, ComposedChart, Line, ReferenceArea, ReferenceLine, Tooltip, XAxis, YAxis }) => (
        <ComposedChart data={hours.map((hour) => ({ ...hour }))} margin={MARGIN} title={title}>
          <CartesianGrid {...GRID} />
          {stretches(hours).map(({ from, to }) => (
            <ReferenceArea
              key={from}
              x1={from}
              x2={to}
              fill={INK.good}
              fillOpacity={0.18}
              ifOverflow="hidden"
            />
          ))}
          <XAxis
            {...AXIS}
            dataKey="at"
            type="number"
            domain={first && last ? [first.at, last.at + HOUR_MILLIS] : [0, 1]}
            ticks={hours.length > 60 ? midnights : everySixth}
            tickFormatter={(at: number) => {
              const { date, minuteOfDay } = localOf(at, zone);
              return minuteOfDay === 0 ? formatDate(date, "weekday", locale) : formatClock(minuteOfDay);
            }}
          />
          <YAxis {...AXIS} width={40} />
          <Tooltip
            {...TIP}
            labelFormatter={(at) => (typeof at === "number" ? formatInstant(at, zone, locale) : "")}
            formatter={(value) => formatQuantity(Number(value), "m/s", 1, locale, true)}
          />
          <Line
            dataKey="gustMs"
            name={t("Gust")}
            stroke={INK.promise}
            strokeWidth={1.75}
            strokeDasharray="4 2"
            dot={false}
            isAnimationActive={false}
          />
          <Line
            dataKey="windMs"
            name={t("Mean wind")}
            stroke={INK.done}
            strokeWidth={2.5}
            dot={false}
            isAnimationActive={false}
          />
          {windLimitMs === undefined ? null : (
            <ReferenceLine
              y={windLimitMs}
              stroke={INK.limit}
              strokeWidth={1.5}
              ifOverflow="extendDomain"
              label={markLabel(
                t("wind limit {{limit}}", { limit: ms(windLimitMs) }),
                "var(--brick)",
                "insideBottomLeft",
              )}
            />
          )}
          {gustLimitMs === undefined ? null : (
            <ReferenceLine
              y={gustLimitMs}
              stroke={INK.limit}
              strokeWidth={1.5}
              strokeDasharray="4 2"
              ifOverflow="extendDomain"
              label={markLabel(
                t("gust limit {{limit}}", { limit: ms(gustLimitMs) }),
                "var(--brick)",
                "insideTopRight",
              )}
            />
          )}
        </ComposedChart>
      )}
    </ChartFrame>
  );
}
