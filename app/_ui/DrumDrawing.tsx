import { useId } from "react";
import type { DrumPlan } from "@/lib/drums";
import { Disclosure } from "./Disclosure";
import { markStepCm, stretchesOf } from "./drawings/drumScale";
import { FiguresTable } from "./FiguresTable";
import { formatCm, formatDate, formatNumber } from "./format";
import type { Words } from "./language/words";
import { RowLink } from "./RowLink";
import { ScrollRegion } from "./ScrollRegion";

export interface DrumDrawingProps {
  drums: readonly DrumPlan[];
  /** Short name of each run for its cut: "KRA-012 near R1". The run's id when missing. */
  runLabels?: Readonly<Record<string, string>>;
  /** Page of each drum. */
  drumHref?: Readonly<Record<string, string>>;
  /** Draw to the scale of this length instead of the longest drum, cm. */
  scaleCm?: number;
  /** The reader's language. */
  words: Words;
}

export const LEFT_WORDS = {
  remnant: "remnant",
  scrap: "scrap",
  untouched: "untouched",
  empty: "empty",
} as const;

/**
 * Drums as bars to one scale, cut by cut from the outer end, with metre marks. Remnants and scrap differ by
 * hatch and word. The same as a table below.
 */
export function DrumDrawing(props: DrumDrawingProps) {
  const { t, locale } = props.words;
  const { drums, runLabels = {}, drumHref = {} } = props;
  const id = useId();
  const scaleCm = props.scaleCm ?? Math.max(100, ...drums.map((plan) => plan.drum.receivedCm));
  const step = markStepCm(scaleCm, 10);
  const percent = (cm: number): string => `${(100 * cm) / scaleCm}%`;
  const runName = (runId: string): string => runLabels[runId] ?? runId;
  return (
    <div className="ui-drums">
      <ScrollRegion label={t("Cutting drawing, to scale")}>
        <div className="ui-drums-sheet">
          <svg width="0" height="0" aria-hidden="true">
            <defs>
              <pattern
                id={`${id}r`}
                width="8"
                height="8"
                patternUnits="userSpaceOnUse"
                patternTransform="rotate(45)"
              >
                <path d="M0 0v8" stroke="var(--moss)" strokeWidth="2" />
              </pattern>
              <pattern id={`${id}s`} width="7" height="7" patternUnits="userSpaceOnUse">
                <path d="M0 0l7 7M7 0L0 7" stroke="var(--brick)" strokeWidth="1.2" />
              </pattern>
            </defs>
          </svg>
          {drums.map((plan) => {
            const { drum, cuts } = plan;
            const href = drumHref[drum.id];
            const words = t(
              "Drum {{drum}}, {{cable}}, {{received}} as received. {{cuts}} cuts, {{left}} {{what}}.",
              {
                drum: drum.serial,
                cable: drum.cableCode,
                received: formatCm(drum.receivedCm, locale),
                cuts: cuts.length,
                left: formatCm(plan.leftCm, locale),
                what: t(LEFT_WORDS[plan.leftIs]),
              },
            );
            return (
              <div key={drum.id} className="ui-drum">
                <div className="ui-drum-name">
                  {href ? <RowLink href={href}>{drum.serial}</RowLink> : <strong>{drum.serial}</strong>}
                  <span>
                    {drum.cableCode}
                    {drum.isNew
                      ? t(", new, from {{day}}", { day: formatDate(drum.availableOn, "day", locale) })
                      : ""}
                  </span>
                </div>
                <svg
                  className="ui-drum-bar"
                  width="100%"
                  height={BAR_HEIGHT + 15}
                  role="img"
                  aria-label={words}
                >
                  <rect
                    x="0"
                    y="1"
                    width={percent(drum.receivedCm)}
                    height={BAR_HEIGHT}
                    fill="var(--raised)"
                    stroke="var(--edge)"
                  />
                  {stretchesOf(plan).map((stretch) => {
                    const x = percent(stretch.fromCm);
                    const width = percent(stretch.toCm - stretch.fromCm);
                    const cut = stretch.cut === undefined ? undefined : cuts[stretch.cut];
                    const fill =
                      stretch.kind === "remnant"
                        ? `url(#${id}r)`
                        : stretch.kind === "scrap"
                          ? `url(#${id}s)`
                          : stretch.kind === "gone"
                            ? "var(--line)"
                            : stretch.kind === "allowance"
                              ? "var(--ink)"
                              : stretch.kind === "cut"
                                ? "var(--petrol-wash)"
                                : "none";
                    return (
                      <g key={stretch.fromCm}>
                        <rect
                          x={x}
                          y="1"
                          width={width}
                          height={BAR_HEIGHT}
                          fill={fill}
                          stroke="var(--petrol)"
                          strokeWidth={cut ? 1 : 0}
                        />
                        <svg
                          x={x}
                          y="1"
                          width={width}
                          height={BAR_HEIGHT}
                          overflow="hidden"
                          aria-hidden="true"
                        >
                          {cut ? (
                            <>
                              <title>
                                {t("{{run}}: {{length}}, marks {{from}} to {{to}}", {
                                  run: runName(cut.runId),
                                  length: formatCm(cut.lengthCm, locale),
                                  from: formatCm(cut.fromMarkCm, locale),
                                  to: formatCm(cut.toMarkCm, locale),
                                })}
                              </title>
                              <text x="5" y="13" className="ui-drum-text" fontWeight="700">
                                {formatCm(cut.lengthCm, locale)}
                              </text>
                              {/* Two lines: short runs have no room for one. */}
                              {linesOf(runName(cut.runId)).map((line, i) => (
                                <text key={line} x="5" y={26 + 12 * i} className="ui-drum-text">
                                  {line}
                                </text>
                              ))}
                            </>
                          ) : stretch.kind === "remnant" ||
                            stretch.kind === "scrap" ||
                            stretch.kind === "gone" ? (
                            <>
                              <text x="3" y="19" className="ui-drum-text ui-drum-halo">
                                {stretch.kind === "gone" ? t("gone") : t(LEFT_WORDS[stretch.kind])}
                              </text>
                              <text x="3" y="32" className="ui-drum-text ui-drum-halo">
                                {formatCm(stretch.toCm - stretch.fromCm, locale)}
                              </text>
                            </>
                          ) : null}
                        </svg>
                      </g>
                    );
                  })}
                  {marks(drum.receivedCm, step).map((cm) => (
                    <g key={cm}>
                      <line
                        x1={percent(cm)}
                        x2={percent(cm)}
                        y1={BAR_HEIGHT + 1}
                        y2={BAR_HEIGHT + 5}
                        stroke="var(--edge)"
                      />
                      <text
                        x={percent(cm)}
                        y={BAR_HEIGHT + 15}
                        className="ui-drum-mark"
                        textAnchor={cm === 0 ? "start" : cm >= scaleCm ? "end" : "middle"}
                      >
                        {formatNumber(cm / 100, 0, locale)}
                        {cm === 0 ? " m" : ""}
                      </text>
                    </g>
                  ))}
                </svg>
              </div>
            );
          })}
        </div>
      </ScrollRegion>
      <Disclosure summary={t("Show cuts as a table")}>
        <FiguresTable
          figures={{
            caption: t("Cuts in order, marks counted from the outer end of the drum as received"),
            head: [
              { label: t("Drum") },
              { label: t("Run") },
              { label: t("Length"), align: "end" },
              { label: t("From mark"), align: "end" },
              { label: t("To mark"), align: "end" },
              { label: t("Cut on") },
            ],
            rows: drums.flatMap((plan) => [
              ...plan.cuts.map((cut) => [
                plan.drum.serial,
                runName(cut.runId),
                formatCm(cut.lengthCm, locale),
                formatCm(cut.fromMarkCm, locale),
                formatCm(cut.toMarkCm, locale),
                formatDate(cut.cutOn, "full", locale),
              ]),
              [plan.drum.serial, t(LEFT_WORDS[plan.leftIs]), formatCm(plan.leftCm, locale), "", "", ""],
            ]),
          }}
        />
      </Disclosure>
    </div>
  );
}

/** Pixels: a length and two lines of a name have room one above the other. */
const BAR_HEIGHT = 42;

/** "VH044 near R1" as "VH044" and "near R1". */
function linesOf(name: string): readonly string[] {
  const at = name.indexOf(" ");
  return at < 0 ? [name] : [name.slice(0, at), name.slice(at + 1)];
}

function marks(lengthCm: number, stepCm: number): readonly number[] {
  return Array.from({ length: Math.floor(lengthCm / stepCm) + 1 }, (_, i) => i * stepCm);
}
