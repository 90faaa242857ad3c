"use client";

import { formatNumber, formatShare } from "../format";
import { useWords } from "../language/LanguageProvider";
import { ChartFrame } from "./ChartFrame";
import { AXIS, GRID, INK, MARGIN, TIP } from "./look";

export interface CostTraceChartProps {
  /** Best cost so far, in order of iterations; plan cost units. */
  trace: readonly { iteration: number; cost: number }[];
  lowerBound?: number;
  title?: string;
  /** Heading level of the title: 3 under a titled panel, 2 without one. */
  level?: 2 | 3 | 4;
  height?: number;
  locale?: string;
}

/** How the plan's cost fell while the solver ran, and how far the bound leaves it to fall. */
export function CostTraceChart(props: CostTraceChartProps) {
  const { t, locale } = useWords();
  const { trace, lowerBound, title = t("Cost of the best plan"), height = 220 } = props;
  const n = (value: number): string => formatNumber(value, 0, locale);
  const last = trace.at(-1);
  const gap =
    last && lowerBound !== undefined && lowerBound > 0 ? (last.cost - lowerBound) / lowerBound : undefined;
  const rises = trace.some(({ cost }, i) => i > 0 && cost > trace[i - 1]!.cost);
  const lead = [
    gap === undefined
      ? ""
      : t("At most {{share}} dearer than the best plan there can be.", {
          share: formatShare(gap, 1, locale),
        }),
    rises ? t("Where it rises, a kit cannot be whole as early as assumed, and its visit was moved.") : "",
  ].filter(Boolean);
  return (
    <ChartFrame
      title={title}
      level={props.level}
      lead={lead.join(" ") || undefined}
      axes={t("plan cost, over iterations")}
      height={height}
      keyEntries={[
        { label: t("Best so far"), colour: INK.done, shape: "line" },
        ...(lowerBound === undefined
          ? []
          : [{ label: t("No plan can cost less"), colour: INK.good, shape: "line" as const, dash: "4 3" }]),
      ]}
      figures={{
        caption: t("Best cost by iteration"),
        head: [
          { label: t("Iteration"), align: "end" },
          { label: t("Cost"), align: "end" },
        ],
        rows: trace.map((point) => [n(point.iteration), n(point.cost)]),
      }}
    >
      {({ CartesianGrid, ComposedChart, Line, ReferenceLine, Tooltip, XAxis, YAxis }) => (
        <ComposedChart data={[...trace]} margin={MARGIN} title={title}>
          <CartesianGrid {...GRID} />
          <XAxis
            {...AXIS}
            dataKey="iteration"
            type="number"
            domain={["dataMin", "dataMax"]}
            tickFormatter={n}
          />
          <YAxis {...AXIS} width={72} domain={["auto", "auto"]} tickFormatter={n} />
          <Tooltip
            {...TIP}
            labelFormatter={(i) => t("Iteration {{no}}", { no: n(Number(i)) })}
            formatter={(value) => n(Number(value))}
          />
          <Line
            dataKey="cost"
            name={t("Best so far")}
            type="stepAfter"
            stroke={INK.done}
            strokeWidth={2.5}
            dot={false}
            isAnimationActive={false}
          />
          {lowerBound === undefined ? null : (
            <ReferenceLine y={lowerBound} stroke={INK.good} strokeDasharray="4 3" ifOverflow="extendDomain" />
          )}
        </ComposedChart>
      )}
    </ChartFrame>
  );
}
