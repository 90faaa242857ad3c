import type { AntennaPosition, StructureKind } from "@/lib/site";
import type { EarthingPoint, RunPlan } from "@/lib/takeoff";
import { Disclosure } from "./Disclosure";
import { elevationOf, spreadLabels } from "./drawings/elevation";
import { FiguresTable } from "./FiguresTable";
import { DEFAULT_LOCALE, formatMetres, formatNumber } from "./format";
import { ScrollRegion } from "./ScrollRegion";

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

const W = 720;
const H = 460;
const GROUND = 410;
const TOP = 34;
/** Axis of the structure, the run lines beside it, the shelter with the IDU. */
const AXIS_X = 300;
const RUN_X = 330;
const SHELTER_X = 520;

const KIND_WORDS: Readonly<Record<EarthingPoint["kind"], string>> = {
  "near ODU": "near the ODU",
  "structure foot": "structure foot",
  entry: "entry",
  intermediate: "intermediate",
  middle: "middle",
};

/** One link end seen from the side: structure, antennas at their heights, runs down to the IDU, earthing points. */
export function RouteSketch(props: RouteSketchProps) {
  const { label, structure, structureHeightM, antennas, runs, antennaOfOdu, locale = DEFAULT_LOCALE } = props;
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
      <ScrollRegion label={`${label}, side view`}>
        <svg
          viewBox={`0 0 ${W} ${H}`}
          role="img"
          aria-label={`${label}, side view. The table below says the same.`}
        >
          <g className="ui-route-scale">
            {scale.marks.map((m) => (
              <g key={m}>
                <line
                  x1="44"
                  x2={W - 20}
                  y1={scale.y(m)}
                  y2={scale.y(m)}
                  stroke="var(--line)"
                  strokeDasharray="2 4"
                />
                <text x="38" y={scale.y(m) + 4} textAnchor="end">
                  {formatNumber(m, 0, locale)}
                  {m === 0 ? " m" : ""}
                </text>
              </g>
            ))}
          </g>
          <Structure kind={structure} topY={scale.y(structureHeightM)} />
          <path d={`M44 ${GROUND}H${W - 20}`} stroke="var(--ink)" strokeWidth="2" />
          <g>
            <rect
              x={SHELTER_X}
              y={GROUND - 44}
              width="92"
              height="44"
              fill="var(--surface)"
              stroke="var(--ink)"
              strokeWidth="1.5"
            />
            <text x={SHELTER_X + 46} y={GROUND - 17} textAnchor="middle" className="ui-route-text">
              IDU
            </text>
          </g>
          {runs.map((run, at) => {
            const antenna = antennas.find((a) => a.label === antennaOfOdu[run.oduLabel]);
            const y = scale.y(antenna?.mountHeightM ?? structureHeightM);
            const x = RUN_X + at * 9;
            const bridgeY = GROUND - 30 - at * 6;
            const style = RUN_STYLES[at % RUN_STYLES.length];
            return (
              <g key={run.id}>
                <path
                  d={`M${AXIS_X + 14} ${y}H${x - 8}q8 0 8 8V${bridgeY - 8}q0 8 8 8H${SHELTER_X}`}
                  fill="none"
                  stroke={style?.colour}
                  strokeWidth="2.5"
                  strokeDasharray={style?.dash}
                />
                {run.earthingPoints.map((point) => (
                  <EarthSign
                    key={`${point.kind}${point.distanceM}`}
                    x={point.kind === "entry" ? SHELTER_X - 12 : x}
                    y={point.kind === "entry" ? bridgeY : Math.min(scale.y(point.heightM), bridgeY - 10)}
                  />
                ))}
              </g>
            );
          })}
          {antennas.map((antenna, at) => {
            const y = scale.y(antenna.mountHeightM);
            const r = Math.max(7, (antenna.diameterM / 2) * Math.max(scale.pxPerM, 9));
            return (
              <g key={antenna.label}>
                <path d={`M${AXIS_X} ${y}H${AXIS_X - 22}`} stroke="var(--ink)" strokeWidth="2" />
                <path
                  d={`M${AXIS_X - 22} ${y - r}q-${r * 0.7} ${r} 0 ${2 * r}z`}
                  fill="var(--petrol-wash)"
                  stroke="var(--petrol)"
                  strokeWidth="2"
                />
                <path
                  d={`M${AXIS_X - 30 - r * 0.5} ${y}L206 ${(antennaLabels[at] ?? y) - 4}`}
                  stroke="var(--edge)"
                />
                <text
                  x="200"
                  y={antennaLabels[at] ?? y}
                  textAnchor="end"
                  className="ui-route-text"
                  fontWeight="700"
                >
                  {antenna.label} {formatMetres(antenna.mountHeightM, locale)}
                </text>
                <text x="200" y={(antennaLabels[at] ?? y) + 14} textAnchor="end" className="ui-route-small">
                  {formatNumber(antenna.diameterM, 1, locale)} m, {antenna.bandGhz} GHz,{" "}
                  {antenna.polarisations.join("+")}
                </text>
              </g>
            );
          })}
          {pointList.map((point, at) => {
            const y = Math.min(scale.y(point.heightM), GROUND - 12);
            const labelY = (pointLabels[at] ?? y) + 4;
            const fromX = RUN_X + runs.length * 9 + 8;
            return (
              <g key={point.heightM}>
                <path d={`M${fromX} ${y}L${fromX + 44} ${labelY - 4}`} stroke="var(--edge)" />
                <text x={fromX + 48} y={labelY} className="ui-route-text">
                  earth {formatMetres(point.heightM, locale)}
                  <tspan className="ui-route-small"> {[...new Set(point.words)].join(", ")}</tspan>
                </text>
              </g>
            );
          })}
        </svg>
      </ScrollRegion>
      <ul className="ui-chart-key text-sm">
        {runs.map((run, at) => (
          <li key={run.id}>
            <svg width="24" height="8" aria-hidden="true">
              <path
                d="M0 4h24"
                stroke={RUN_STYLES[at % RUN_STYLES.length]?.colour}
                strokeWidth="2.5"
                strokeDasharray={RUN_STYLES[at % RUN_STYLES.length]?.dash}
              />
            </svg>
            {run.oduLabel}, {formatMetres(run.cutM, locale)} {run.cableCode}
          </li>
        ))}
      </ul>
      <Disclosure summary="Show runs and earthing points as a table">
        <FiguresTable
          figures={{
            caption: `Runs and earthing points of ${label}. Distance along the run from the ODU, height above ground.`,
            head: [
              { label: "Run" },
              { label: "Cable" },
              { label: "Cut", align: "end" },
              { label: "Earthing point" },
              { label: "Distance", align: "end" },
              { label: "Height", align: "end" },
              { label: "Moved for a bend", align: "end" },
            ],
            rows: runs.flatMap((run) =>
              run.earthingPoints.map((point) => [
                run.oduLabel,
                run.cableCode,
                formatMetres(run.cutM, locale),
                KIND_WORDS[point.kind],
                formatMetres(point.distanceM, locale),
                formatMetres(point.heightM, locale),
                point.movedM === 0 ? "no" : formatMetres(point.movedM, locale, 2),
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
function Structure({ kind, topY }: { kind: StructureKind; topY: number }) {
  const line = { stroke: "var(--quiet)", strokeWidth: 1.8, fill: "none" } as const;
  if (kind === "monopole") {
    return <path d={`M${AXIS_X - 5} ${GROUND}L${AXIS_X - 3} ${topY}h6L${AXIS_X + 5} ${GROUND}`} {...line} />;
  }
  if (kind === "roof") {
    return (
      <g {...line}>
        <rect x={AXIS_X - 90} y={topY + 30} width="150" height={Math.max(0, GROUND - topY - 30)} />
        <path d={`M${AXIS_X} ${topY + 30}V${topY}M${AXIS_X - 14} ${topY + 30}L${AXIS_X} ${topY + 12}`} />
      </g>
    );
  }
  if (kind === "mast") {
    const third = (GROUND - topY) / 3;
    return (
      <g {...line}>
        <path d={`M${AXIS_X - 4} ${GROUND}V${topY}h8V${GROUND}`} />
        <path
          d={`M${AXIS_X - 4} ${topY + 8}L${AXIS_X - 190} ${GROUND}M${AXIS_X - 4} ${topY + third}L${AXIS_X - 130} ${GROUND}`}
          strokeDasharray="6 3"
        />
      </g>
    );
  }
  const bays = 8;
  const half = (at: number): number => 9 + (at / bays) * 19;
  const yAt = (at: number): number => topY + ((GROUND - topY) * at) / bays;
  const zig = Array.from({ length: bays }, (_, i) => {
    const a = `${AXIS_X - half(i)} ${yAt(i)}`;
    const b = `${AXIS_X + half(i + 1)} ${yAt(i + 1)}`;
    const c = `${AXIS_X + half(i)} ${yAt(i)}`;
    const d = `${AXIS_X - half(i + 1)} ${yAt(i + 1)}`;
    return `M${a}L${b}M${c}L${d}M${d}L${b}`;
  }).join("");
  return (
    <g {...line}>
      <path
        d={`M${AXIS_X - half(bays)} ${GROUND}L${AXIS_X - half(0)} ${topY}h${2 * half(0)}L${AXIS_X + half(bays)} ${GROUND}`}
      />
      <path d={zig} strokeWidth="0.9" />
    </g>
  );
}
