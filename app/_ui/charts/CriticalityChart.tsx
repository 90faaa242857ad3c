"use client";

import { formatShare } from "../format";
import { useWords } from "../language/LanguageProvider";
import { ChartFrame } from "./ChartFrame";
import { AXIS, GRID, INK, MARGIN, TIP } from "./look";

export interface CriticalityChartProps {
  /** Highest share first; those beyond `most` are left to the table. Share of runs, 0 to 1. */
  bars: readonly { label: string; share: number }[];
  title: string;
  /** What a bar is: "Visit". */
  of: string;
  most?: number;
  level?: 2 | 3 | 4;
  locale?: string;
}

const BAR_PX = 30;
const AXIS_PX = 40;

/** How often each thing lies on the chain that sets the programme's finish. */
export function CriticalityChart(props: CriticalityChartProps) {
  const { t, locale } = useWords();
  const { bars, title, of, most = 12 } = props;
  const shown = bars.slice(0, most);
  const share = (value: number): string => formatShare(value, 0, locale);
  return (
    <ChartFrame
      title={title}
      level={props.level}
      axes={t("share of runs in which it sets the finish")}
      height={shown.length * BAR_PX + AXIS_PX}
      keyEntries={[{ label: of, colour: INK.done, shape: "bar" }]}
      figures={{
        caption: t("{{title}}: share of runs", { title }),
        head: [{ label: of }, { label: t("Share of runs"), align: "end" }],
        rows: shown.map((b) => [b.label, share(b.share)]),
      }}
    >
      {({ Bar, BarChart, CartesianGrid, Tooltip, XAxis, YAxis }) => (
        <BarChart data={[...shown]} layout="vertical" margin={MARGIN} title={title}>
          <CartesianGrid {...GRID} vertical horizontal={false} />
          <XAxis {...AXIS} type="number" domain={[0, 1]} tickFormatter={share} />
          <YAxis {...AXIS} type="category" dataKey="label" width={190} interval={0} minTickGap={0} />
          <Tooltip {...TIP} cursor={{ fill: "var(--sunk)" }} formatter={(value) => share(Number(value))} />
          <Bar dataKey="share" name={t("Share of runs")} fill={INK.done} isAnimationActive={false} />
        </BarChart>
      )}
    </ChartFrame>
  );
}
