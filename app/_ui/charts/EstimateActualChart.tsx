"use client";

import { CartesianGrid, ReferenceLine, Scatter, ScatterChart, Tooltip, XAxis, YAxis, ZAxis } from "recharts";
import { DEFAULT_LOCALE, formatNumber, formatShare } from "../format";
import { ChartFrame } from "./ChartFrame";
import { AXIS, GRID, INK, MARGIN, TIP } from "./look";

export interface EstimateActual {
  label: string;
  estimateH: number;
  actualH: number;
  /** Was the actual inside the estimate's P10 to P90? Points outside get another shape. */
  isWithinRange: boolean;
}

export interface EstimateActualChartProps {
  points: readonly EstimateActual[];
  title?: string;
  lead?: string;
  /** Heading level of the title: 3 under a titled panel, 2 without one. */
  level?: 2 | 3 | 4;
  height?: number;
  locale?: string;
}

/** Reported hours against estimated hours, one point per end. On the line = as estimated; above it = took longer. */
export function EstimateActualChart(props: EstimateActualChartProps) {
  const { points, title = "Estimate against actual", lead, height = 320, locale = DEFAULT_LOCALE } = props;
  const top = Math.ceil(Math.max(1, ...points.flatMap((p) => [p.estimateH, p.actualH])));
  const h = (value: number): string => `${formatNumber(value, 1, locale, true)} h`;
  const within = points.filter((p) => p.isWithinRange);
  const outside = points.filter((p) => !p.isWithinRange);
  return (
    <ChartFrame
      title={title}
      level={props.level}
      lead={lead}
      axes="actual hours, against estimated hours"
      height={height}
      keyEntries={[
        { label: `Within P10 to P90 (${within.length})`, colour: INK.done, shape: "dot" },
        { label: `Outside (${outside.length})`, colour: INK.limit, shape: "mark" },
        { label: "As estimated", colour: INK.quiet, shape: "line", dash: "4 3" },
      ]}
      figures={{
        caption: "Estimated and actual hours by link end",
        head: [
          { label: "Link end" },
          { label: "Estimate", unit: "h", align: "end" },
          { label: "Actual", unit: "h", align: "end" },
          { label: "Actual / estimate", align: "end" },
          { label: "Within P10 to P90" },
        ],
        rows: points.map((p) => [
          p.label,
          formatNumber(p.estimateH, 1, locale, true),
          formatNumber(p.actualH, 1, locale, true),
          p.estimateH > 0 ? formatShare(p.actualH / p.estimateH, 0, locale) : "–",
          p.isWithinRange ? "yes" : "no",
        ]),
      }}
    >
      <ScatterChart margin={MARGIN} title={title}>
        <CartesianGrid {...GRID} />
        <XAxis {...AXIS} dataKey="estimateH" name="Estimate" type="number" domain={[0, top]} unit=" h" />
        <YAxis
          {...AXIS}
          dataKey="actualH"
          name="Actual"
          type="number"
          domain={[0, top]}
          unit=" h"
          width={48}
        />
        <ZAxis range={[48, 48]} />
        <Tooltip
          {...TIP}
          content={({ payload }) => {
            const p = payload?.[0]?.payload as EstimateActual | undefined;
            return p ? (
              <div style={TIP.contentStyle}>
                <strong>{p.label}</strong>
                <div>Estimate {h(p.estimateH)}</div>
                <div>Actual {h(p.actualH)}</div>
              </div>
            ) : null;
          }}
        />
        <ReferenceLine
          segment={[
            { x: 0, y: 0 },
            { x: top, y: top },
          ]}
          stroke={INK.quiet}
          strokeDasharray="4 3"
        />
        <Scatter
          name="Within P10 to P90"
          data={within}
          fill={INK.done}
          shape="circle"
          isAnimationActive={false}
        />
        <Scatter name="Outside" data={outside} fill={INK.limit} shape="triangle" isAnimationActive={false} />
      </ScatterChart>
    </ChartFrame>
  );
}
