/** A small plot with logarithmic axes as SVG, for the pages of docs. */

export interface Series {
  label: string;
  points: readonly { x: number; y: number }[];
}

const WIDTH = 640;
const HEIGHT = 360;
const MARGIN = { left: 64, right: 24, top: 16, bottom: 48 };
/** Told apart by dashes too, not by colour alone. */
const STROKES = [
  { colour: "#1f5fa8", dash: "" },
  { colour: "#b4530a", dash: "7 4" },
];

export function logPlot(plot: { x: string; y: string; series: readonly Series[] }): string {
  const points = plot.series.flatMap((s) => s.points);
  const across = scale(
    points.map((p) => p.x),
    MARGIN.left,
    WIDTH - MARGIN.right,
  );
  const up = scale(
    points.map((p) => p.y),
    HEIGHT - MARGIN.bottom,
    MARGIN.top,
  );
  const lines: string[] = [];
  for (const tick of across.ticks)
    lines.push(
      `<line x1="${across.at(tick)}" y1="${MARGIN.top}" x2="${across.at(tick)}" y2="${HEIGHT - MARGIN.bottom}" stroke="#ddd"/>`,
      `<text x="${across.at(tick)}" y="${HEIGHT - MARGIN.bottom + 16}" text-anchor="middle">${tick.toLocaleString("en")}</text>`,
    );
  for (const tick of up.ticks)
    lines.push(
      `<line x1="${MARGIN.left}" y1="${up.at(tick)}" x2="${WIDTH - MARGIN.right}" y2="${up.at(tick)}" stroke="#ddd"/>`,
      `<text x="${MARGIN.left - 8}" y="${up.at(tick) + 4}" text-anchor="end">${tick.toLocaleString("en")}</text>`,
    );
  plot.series.forEach((s, i) => {
    const { colour, dash } = STROKES[i % STROKES.length]!;
    const path = s.points.map((p) => `${across.at(p.x)},${up.at(p.y)}`).join(" ");
    const y = MARGIN.top + 18 + 18 * i;
    lines.push(
      `<polyline points="${path}" fill="none" stroke="${colour}" stroke-width="2" stroke-dasharray="${dash}"/>`,
      ...s.points.map((p) => `<circle cx="${across.at(p.x)}" cy="${up.at(p.y)}" r="3" fill="${colour}"/>`),
      `<line x1="${MARGIN.left + 12}" y1="${y - 4}" x2="${MARGIN.left + 44}" y2="${y - 4}" stroke="${colour}" stroke-width="2" stroke-dasharray="${dash}"/>`,
      `<text x="${MARGIN.left + 52}" y="${y}">${s.label}</text>`,
    );
  });
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" font-family="sans-serif" font-size="12" fill="#222" role="img">
<title>${plot.y} against ${plot.x}, both axes logarithmic</title>
<rect width="${WIDTH}" height="${HEIGHT}" fill="#fff"/>
${lines.join("\n")}
<text x="${(MARGIN.left + WIDTH - MARGIN.right) / 2}" y="${HEIGHT - 10}" text-anchor="middle">${plot.x}</text>
<text x="14" y="${HEIGHT / 2}" text-anchor="middle" transform="rotate(-90 14 ${HEIGHT / 2})">${plot.y}</text>
</svg>
`;
}

/** Whole decades, with 2 and 5 between them, around the values given. */
function scale(valuesAlong: readonly number[], from: number, to: number) {
  const steps: number[] = [];
  for (let decade = -2; decade <= 7; decade++) for (const k of [1, 2, 5]) steps.push(k * 10 ** decade);
  const least = Math.min(...valuesAlong);
  const most = Math.max(...valuesAlong);
  const first = steps.findLastIndex((s) => s <= least);
  const last = steps.findIndex((s) => s >= most);
  const ticks = steps.slice(first, last + 1);
  const low = Math.log(ticks[0]!);
  const high = Math.log(ticks[ticks.length - 1]!);
  const at = (v: number) => Math.round(10 * (from + ((Math.log(v) - low) / (high - low)) * (to - from))) / 10;
  return { ticks, at };
}
