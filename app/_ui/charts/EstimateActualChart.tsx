"use client";

import { formatNumber } from "../format";
import { useWords } from "../language/LanguageProvider";
import { ChartFrame } from "./ChartFrame";
import { AXIS, GRID, INK, MARGIN, TIP } from "./look";

export interface EstimateActualPoint {
  label: string;
  /** Which series: its word in the key. */
  series: string;
  estimateH: number;
  actualH: number;
}

export interface EstimateActualChartProps {
  title: string;
  lead?: string;
  /** In the order of the key; two at most, told apart by shape and colour. */
  series: readonly string[];
  points: readonly EstimateActualPoint[];
  height?: number;
  level?: 2 | 3 | 4;
  locale?: string;
}

const LOOKS = [
  { colour: INK.done, recharts: "circle", key: "dot" },
  { colour: INK.promise, recharts: "triangle", key: "mark" },
] as const;

/** Hours worked against hours estimated, one point a visit; on the line they are equal. */
export function EstimateActualChart(props: EstimateActualChartProps) {
  const { t, locale } = useWords();
  const { title, lead, series, points, height = 300, level } = props;
  const h = (value: number) => formatNumber(value, 1, locale, true);
  const topH = Math.ceil(Math.max(1, ...points.flatMap((p) => [p.estimateH, p.actualH])));
  const axis = { ...AXIS, type: "number", domain: [0, topH], unit: " h", tickCount: 6 } as const;
  return (
    <ChartFrame
      title={title}
      lead={lead}
      level={level}
      axes={t("hours worked on site, against hours estimated")}
      height={height}
      keyEntries={[
        ...series.map((label, s) => ({
          label,
          colour: LOOKS[s]?.colour ?? INK.done,
          shape: LOOKS[s]?.key ?? ("dot" as const),
        })),
        { label: t("equal"), colour: INK.quiet, shape: "line" as const, dash: "4 3" },
      ]}
      figures={{
        caption: title,
        head: [
          { label: t("Visit") },
          { label: t("Estimated"), unit: "h", align: "end" },
          { label: t("Worked"), unit: "h", align: "end" },
        ],
        rows: points.map((p) => [p.label, h(p.estimateH), h(p.actualH)]),
      }}
    >
      {({ CartesianGrid, ReferenceLine, Scatter, ScatterChart, Tooltip, XAxis, YAxis }) => (
        <ScatterChart margin={MARGIN} title={title}>
          <CartesianGrid {...GRID} />
          <XAxis {...axis} dataKey="estimateH" name={t("Estimated")} />
          <YAxis {...axis} dataKey="actualH" name={t("Worked")} width={48} />
          <ReferenceLine
            segment={[
              { x: 0, y: 0 },
              { x: topH, y: topH },
            ]}
            stroke={INK.quiet}
            strokeDasharray="4 3"
          />
          <Tooltip
            {...TIP}
            formatter={(value) => `${h(Number(value))} h`}
            labelFormatter={(_, shown) => (shown[0]?.payload as EstimateActualPoint | undefined)?.label ?? ""}
          />
          {series.map((name, s) => (
            <Scatter
              key={name}
              name={name}
              data={points.filter((p) => p.series === name)}
              fill={LOOKS[s]?.colour}
              fillOpacity={0.75}
              shape={LOOKS[s]?.recharts}
              isAnimationActive={false}
            />
          ))}
        </ScatterChart>
      )}
    </ChartFrame>
  );
}
