"use client";

import { formatInColumn, formatNumber, formatQuantity } from "../format";
import { useWords } from "../language/LanguageProvider";
import { ChartFrame } from "./ChartFrame";
import { AXIS, GRID, INK, MARGIN, markLabel, TIP } from "./look";

export interface HeightCurve {
  /** For example the protection scheme. */
  label: string;
  /** In order of height; all curves at the same heights. Hours. */
  points: readonly { heightM: number; p50H: number; p80H?: number }[];
}

export interface HoursByHeightChartProps {
  curves: readonly HeightCurve[];
  /** Mount height of the end one looks at, m. */
  markHeightM?: number;
  title?: string;
  /** Heading level of the title: 3 under a titled panel, 2 without one. */
  level?: 2 | 3 | 4;
  height?: number;
  locale?: string;
}

const STYLES = [
  { colour: INK.done, dash: undefined },
  { colour: INK.promise, dash: "7 3" },
  { colour: INK.hold, dash: "2 3" },
  { colour: INK.planned, dash: "8 3 2 3" },
  { colour: INK.good, dash: "1 2" },
] as const;

/** Hours of one end against mount height, per scheme; P50 as a line, up to P80 as a band. */
export function HoursByHeightChart(props: HoursByHeightChartProps) {
  const { t, locale: spoken } = useWords();
  const { curves, markHeightM, height = 280 } = props;
  const title = props.title ?? t("Hours against mount height");
  const { locale = spoken } = props;
  const shown = curves.slice(0, STYLES.length);
  const h = (value: number | undefined): string => formatNumber(value, 1, locale, true);
  const data = (shown[0]?.points ?? []).map((point, at) => {
    const row: Record<string, number | number[] | undefined> = { heightM: point.heightM };
    shown.forEach((curve, c) => {
      const p = curve.points[at];
      row[`p50-${c}`] = p?.p50H;
      row[`band-${c}`] = p?.p80H === undefined ? undefined : [p.p50H, p.p80H];
    });
    return row;
  });
  return (
    <ChartFrame
      title={title}
      level={props.level}
      axes={t("hours on site, against mount height in m")}
      height={height}
      keyEntries={shown.map((curve, c) => ({
        label: curve.label,
        colour: STYLES[c]?.colour ?? INK.done,
        shape: "line",
        dash: STYLES[c]?.dash,
      }))}
      figures={{
        caption: t("Hours on site by mount height, P50 (P80)"),
        head: [
          { label: t("Height"), unit: "m", align: "end" },
          ...shown.map((curve) => ({ label: curve.label, unit: "h", align: "end" as const })),
        ],
        rows: (shown[0]?.points ?? []).map((point, at) => [
          formatInColumn(point.heightM, "m", 0, locale),
          ...shown.map((curve) => {
            const p = curve.points[at];
            return p?.p80H === undefined ? h(p?.p50H) : `${h(p.p50H)} (${h(p.p80H)})`;
          }),
        ]),
      }}
    >
      {({ Area, CartesianGrid, ComposedChart, Line, ReferenceLine, Tooltip, XAxis, YAxis }) => (
        <ComposedChart data={data} margin={MARGIN} title={title}>
          <CartesianGrid {...GRID} />
          <XAxis
            {...AXIS}
            dataKey="heightM"
            type="number"
            domain={["dataMin", "dataMax"]}
            unit=" m"
            tickCount={8}
          />
          <YAxis {...AXIS} width={48} unit=" h" />
          <Tooltip
            {...TIP}
            labelFormatter={(m) =>
              t("Mount at {{height}}", { height: formatQuantity(Number(m), "m", 0, locale) })
            }
            formatter={(value) =>
              Array.isArray(value)
                ? `${t("{{from}} to {{to}}", { from: h(Number(value[0])), to: h(Number(value[1])) })} h`
                : `${h(Number(value))} h`
            }
          />
          {shown.map((curve, c) => (
            <Area
              key={`band-${curve.label}`}
              dataKey={`band-${c}`}
              name={`${curve.label}, ${t("P50 to P80")}`}
              fill={STYLES[c]?.colour}
              fillOpacity={0.14}
              stroke="none"
              isAnimationActive={false}
            />
          ))}
          {shown.map((curve, c) => (
            <Line
              key={curve.label}
              dataKey={`p50-${c}`}
              name={`${curve.label}, P50`}
              stroke={STYLES[c]?.colour}
              strokeDasharray={STYLES[c]?.dash}
              strokeWidth={2.5}
              dot={false}
              isAnimationActive={false}
            />
          ))}
          {markHeightM === undefined ? null : (
            <ReferenceLine
              x={markHeightM}
              stroke="var(--ink)"
              label={markLabel(formatQuantity(markHeightM, "m", 1, locale), "var(--ink)")}
            />
          )}
        </ComposedChart>
      )}
    </ChartFrame>
  );
}
