"use client";

import { useRef } from "react";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import type { AntennaPosition, StructureKind } from "@/lib/site";
import type { EarthingPoint, RunPlan } from "@/lib/takeoff";
import { Disclosure } from "./Disclosure";
import { elevationOf, spreadLabels } from "./drawings/elevation";
import { FiguresTable } from "./FiguresTable";
import { formatMetres, formatNumber } from "./format";
import { useWidth } from "./useWidth";

export interface RouteSketchProps {
  /** "KRA-012 near end, S-104". */
  label: string;
  structure: StructureKind;
  structureHeightM: number;
  antennas: readonly AntennaPosition[];
  /** The take-off's runs, with their earthing points. */
  runs: readonly RunPlan[];
  /** Which antenna each run's ODU feeds: ODU label to antenna label. */
  antennaOfOdu: Readonly<Record<string, string>>;
  locale?: string;
}

const H = 460;
const GROUND = 410;
const TOP = 34;

/** Horizontal places of the drawing, px: the scale, axis of the structure, runs beside it, the shelter. */
interface Layout {
  width: number;
  scaleX: number;
  labelX: number;
  axisX: number;
  runX: number;
  shelterX: number;
  /** How far guys and roofs reach from the axis. */
  reachX: number;
  isTight: boolean;
}
const WIDE: Layout = {
  width: 720,
  scaleX: 38,
  labelX: 200,
  axisX: 300,
  runX: 330,
  shelterX: 520,
  reachX: 190,
  isTight: false,
};
const TIGHT: Layout = {
  width: 350,
  scaleX: 24,
  labelX: 96,
  axisX: 158,
  runX: 186,
  shelterX: 262,
  reachX: 118,
  isTight: true,
};

export const POINT_WORDS: Readonly<Record<EarthingPoint["kind"], string>> = {
  "near ODU": "near the ODU",
  "structure foot": "structure foot",
  entry: "entry",
  intermediate: "intermediate",
  middle: "middle",
};

/** One link end seen from the side: structure, antennas at their heights, runs down to the IDU, earthing points. */
export function RouteSketch(props: RouteSketchProps) {
  const { t, locale: spoken } = useWords();
  const { label, structure, structureHeightM, antennas, runs, antennaOfOdu, locale = spoken } = props;
  const frame = useRef<HTMLDivElement>(null);
  const at = useWidth(frame, WIDE.width) < 560 ? TIGHT : WIDE;
  const topM = Math.max(structureHeightM, ...antennas.map((a) => a.mountHeightM), 1);
  const scale = elevationOf(topM, TOP, GROUND);
  const antennaLabels = spreadLabels(
    antennas.map((a) => scale.y(a.mountHeightM)),
    30,
  );
  // Earthing points at one height on several runs are one label: the crew climbs there once.
  const points = new Map<string, { heightM: number; words: string[] }>();
  for (const run of runs) {
    for (const point of run.earthingPoints) {
      const key = point.heightM.toFixed(1);
      const entry = points.get(key) ?? { heightM: point.heightM, words: [] };
      entry.words.push(run.oduLabel);
      points.set(key, entry);
    }
  }
  const pointList = [...points.values()].sort((a, b) => b.heightM - a.heightM);
  const pointLabels = spreadLabels(
    pointList.map((p) => scale.y(p.heightM)),
    17,
    // Above the bridge and the shelter, which the runs reach near the ground.
    GROUND - 66,
  );
  return (
    <figure className="ui-route">
      <div ref={frame}>
        <svg
          viewBox={`0 0 ${at.width} ${H}`}
          role="img"
          aria-label={t("{{label}}, side view. The table below says the same.", { label })}
        >
          <g className="ui-route-scale">
            {scale.marks.map((m) => (
              <g key={m}>
                <line
                  x1={at.scaleX + 6}
                  x2={at.width - 20}
                  y1={scale.y(m)}
                  y2={scale.y(m)}
                  stroke="var(--line)"
                  strokeDasharray="2 4"
                />
                <text x={at.scaleX} y={scale.y(m) + 4} textAnchor="end">
                  {formatNumber(m, 0, locale)}
                  {m === 0 ? " m" : ""}
                </text>
              </g>
            ))}
          </g>
          <Structure kind={structure} topY={scale.y(structureHeightM)} axisX={at.axisX} reachX={at.reachX} />
          <path d={`M${at.scaleX + 6} ${GROUND}H${at.width - 20}`} stroke="var(--ink)" strokeWidth="2" />
          <g>
            <rect
              x={at.shelterX}
              y={GROUND - 44}
              width="72"
              height="44"
              fill="var(--surface)"
              stroke="var(--ink)"
              strokeWidth="1.5"
            />
            <text x={at.shelterX + 36} y={GROUND - 17} textAnchor="middle" className="ui-route-text">
              IDU
            </text>
          </g>
          {runs.map((run, i) => {
            const antenna = antennas.find((a) => a.label === antennaOfOdu[run.oduLabel]);
            const y = scale.y(antenna?.mountHeightM ?? structureHeightM);
            const x = at.runX + i * 9;
            const bridgeY = GROUND - 30 - i * 6;
            const style = RUN_STYLES[i % RUN_STYLES.length];
            return (
              <g key={run.id}>
                <path
                  d={`M${at.axisX + 14} ${y}H${x - 8}q8 0 8 8V${bridgeY - 8}q0 8 8 8H${at.shelterX}`}
                  fill="none"
                  stroke={style?.colour}
                  strokeWidth="2.5"
                  strokeDasharray={style?.dash}
                />
                {run.earthingPoints.map((point) => (
                  <EarthSign
                    key={`${point.kind}${point.distanceM}`}
                    x={point.kind === "entry" ? at.shelterX - 12 : x}
                    y={point.kind === "entry" ? bridgeY : Math.min(scale.y(point.heightM), bridgeY - 10)}
                  />
                ))}
              </g>
            );
          })}
          {antennas.map((antenna, i) => {
            const y = scale.y(antenna.mountHeightM);
            const r = Math.max(7, (antenna.diameterM / 2) * Math.max(scale.pxPerM, 9));
            return (
              <g key={antenna.label}>
                <path d={`M${at.axisX} ${y}H${at.axisX - 22}`} stroke="var(--ink)" strokeWidth="2" />
                <path
                  d={`M${at.axisX - 22} ${y - r}q-${r * 0.7} ${r} 0 ${2 * r}z`}
                  fill="var(--petrol-wash)"
                  stroke="var(--petrol)"
                  strokeWidth="2"
                />
                <path
                  d={`M${at.axisX - 30 - r * 0.5} ${y}L${at.labelX + 6} ${(antennaLabels[i] ?? y) - 4}`}
                  stroke="var(--edge)"
                />
                <text
                  x={at.labelX}
                  y={antennaLabels[i] ?? y}
                  textAnchor="end"
                  className="ui-route-text"
                  fontWeight="700"
                >
                  {antenna.label} {formatMetres(antenna.mountHeightM, locale)}
                </text>
                <text
                  x={at.labelX}
                  y={(antennaLabels[i] ?? y) + 14}
                  textAnchor="end"
                  className="ui-route-small"
                >
                  {formatNumber(antenna.diameterM, 1, locale)} m,{" "}
                  {at.isTight ? "" : `${antenna.bandGhz} GHz, `}
                  {antenna.polarisations.join("+")}
                </text>
              </g>
            );
          })}
          {pointList.map((point, i) => {
            const y = Math.min(scale.y(point.heightM), GROUND - 12);
            const labelY = (pointLabels[i] ?? y) + 4;
            const fromX = at.runX + runs.length * 9 + 6;
            return (
              <g key={point.heightM}>
                <path
                  d={`M${fromX} ${y}L${fromX + (at.isTight ? 10 : 44)} ${labelY - 4}`}
                  stroke="var(--edge)"
                />
                <text x={fromX + (at.isTight ? 13 : 48)} y={labelY} className="ui-route-text">
                  {t("earth {{height}}", { height: formatMetres(point.heightM, locale) })}
                  <tspan className="ui-route-small"> {[...new Set(point.words)].join(", ")}</tspan>
                </text>
              </g>
            );
          })}
        </svg>
      </div>
      <ul className="ui-chart-key text-sm">
        {runs.map((run, i) => (
          <li key={run.id}>
            <svg width="24" height="8" aria-hidden="true">
              <path
                d="M0 4h24"
                stroke={RUN_STYLES[i % RUN_STYLES.length]?.colour}
                strokeWidth="2.5"
                strokeDasharray={RUN_STYLES[i % RUN_STYLES.length]?.dash}
              />
            </svg>
            {run.oduLabel}, {formatMetres(run.cutM, locale)} {run.cableCode}
          </li>
        ))}
      </ul>
      <Disclosure summary={t("Show runs and earthing points as a table")}>
        <FiguresTable
          figures={{
            caption: t(
              "Runs and earthing points of {{label}}. Distance along the run from the ODU, height above ground.",
              { label },
            ),
            head: [
              { label: t("Run") },
              { label: t("Cable") },
              { label: t("Cut"), align: "end" },
              { label: t("Earthing point") },
              { label: t("Distance"), align: "end" },
              { label: t("Height"), align: "end" },
              { label: t("Moved for a bend"), align: "end" },
            ],
            rows: runs.flatMap((run) =>
              run.earthingPoints.map((point) => [
                run.oduLabel,
                run.cableCode,
                formatMetres(run.cutM, locale),
                t(POINT_WORDS[point.kind]),
                formatMetres(point.distanceM, locale),
                formatMetres(point.heightM, locale),
                point.movedM === 0 ? t("no") : formatMetres(point.movedM, locale, 2),
              ]),
            ),
          }}
        />
      </Disclosure>
    </figure>
  );
}

const RUN_STYLES = [
  { colour: "var(--brick)", dash: undefined },
  { colour: "var(--steel)", dash: "8 3" },
  { colour: "var(--plum)", dash: "2 3" },
  { colour: "var(--ochre)", dash: "10 3 2 3" },
] as const;

function EarthSign({ x, y }: { x: number; y: number }) {
  return (
    <g transform={`translate(${x} ${y})`}>
      <circle r="4.5" fill="var(--moss)" stroke="var(--surface)" strokeWidth="1.5" />
      <path d="M-7 8H7M-4.5 11H4.5M-2 14H2M0 4V8" stroke="var(--moss)" strokeWidth="1.6" />
    </g>
  );
}

/** Outline of the structure, not to horizontal scale. */
interface StructureProps {
  kind: StructureKind;
  topY: number;
  axisX: number;
  reachX: number;
}

function Structure({ kind, topY, axisX, reachX }: StructureProps) {
  const line = { stroke: "var(--quiet)", strokeWidth: 1.8, fill: "none" } as const;
  if (kind === "monopole") {
    return <path d={`M${axisX - 5} ${GROUND}L${axisX - 3} ${topY}h6L${axisX + 5} ${GROUND}`} {...line} />;
  }
  if (kind === "roof") {
    return (
      <g {...line}>
        <rect x={axisX - 90} y={topY + 30} width="150" height={Math.max(0, GROUND - topY - 30)} />
        <path d={`M${axisX} ${topY + 30}V${topY}M${axisX - 14} ${topY + 30}L${axisX} ${topY + 12}`} />
      </g>
    );
  }
  if (kind === "mast") {
    const third = (GROUND - topY) / 3;
    return (
      <g {...line}>
        <path d={`M${axisX - 4} ${GROUND}V${topY}h8V${GROUND}`} />
        <path
          d={`M${axisX - 4} ${topY + 8}L${axisX - reachX} ${GROUND}M${axisX - 4} ${topY + third}L${axisX - reachX * 0.68} ${GROUND}`}
          strokeDasharray="6 3"
        />
      </g>
    );
  }
  const bays = 8;
  const half = (at: number): number => 9 + (at / bays) * 19;
  const yAt = (at: number): number => topY + ((GROUND - topY) * at) / bays;
  const zig = Array.from({ length: bays }, (_, i) => {
    const a = `${axisX - half(i)} ${yAt(i)}`;
    const b = `${axisX + half(i + 1)} ${yAt(i + 1)}`;
    const c = `${axisX + half(i)} ${yAt(i)}`;
    const d = `${axisX - half(i + 1)} ${yAt(i + 1)}`;
    return `M${a}L${b}M${c}L${d}M${d}L${b}`;
  }).join("");
  return (
    <g {...line}>
      <path
        d={`M${axisX - half(bays)} ${GROUND}L${axisX - half(0)} ${topY}h${2 * half(0)}L${axisX + half(bays)} ${GROUND}`}
      />
      <path d={zig} strokeWidth="0.9" />
    </g>
  );
}
