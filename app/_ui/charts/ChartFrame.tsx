"use client";

import { type ReactElement, type ReactNode, useId, useRef } from "react";
import { Disclosure } from "../Disclosure";
import { type Figures, FiguresTable } from "../FiguresTable";
import { T } from "../language/T";
import { type Drawing, useDrawing } from "./useDrawing";

/** One line of the key: how a series is drawn, in words and as it looks. */
export interface KeyEntry {
  label: string;
  colour: string;
  shape: "line" | "area" | "bar" | "dot" | "mark" | "down mark";
  dash?: string;
}

export interface ChartFrameProps {
  title: ReactNode;
  /** What to read off it, in one sentence; also the spoken description. */
  lead?: ReactNode;
  keyEntries: readonly KeyEntry[];
  figures: Figures;
  /** Plot height, px. */
  height?: number;
  /** Controls beside the title. */
  actions?: ReactNode;
  /** Units of the axes in words, above the plot: "hops over weeks". */
  axes: string;
  level?: 2 | 3 | 4;
  /** The chart, made of the library's parts. */
  children: (drawing: Drawing) => ReactElement;
}

/** Frame of every chart: title, axes with units, key, plot of fixed height, and the figures as a table behind it. */
export function ChartFrame(props: ChartFrameProps) {
  const { title, lead, keyEntries, figures, height = 260, actions, axes, level = 3, children } = props;
  const id = useId();
  const plot = useRef<HTMLDivElement>(null);
  const drawing = useDrawing(plot);
  const Heading = `h${level}` as const;
  return (
    <figure className="ui-chart" aria-labelledby={id}>
      <div className="ui-chart-head">
        <div>
          <Heading id={id}>{title}</Heading>
          {lead ? <p>{lead}</p> : null}
        </div>
        {actions}
      </div>
      <div className="ui-chart-words">
        <span>{axes}</span>
        <ul className="ui-chart-key">
          {keyEntries.map((entry) => (
            <li key={entry.label}>
              <Swatch entry={entry} />
              {entry.label}
            </li>
          ))}
        </ul>
      </div>
      <div ref={plot} className="ui-chart-plot" style={{ height }}>
        {drawing ? (
          <drawing.ResponsiveContainer width="100%" height={height} initialDimension={{ width: 640, height }}>
            {children(drawing)}
          </drawing.ResponsiveContainer>
        ) : null}
      </div>
      <Disclosure summary={<T>Show figures</T>}>
        <FiguresTable figures={figures} />
      </Disclosure>
    </figure>
  );
}

function Swatch({ entry }: { entry: KeyEntry }) {
  const { colour, shape, dash } = entry;
  return (
    <svg viewBox="0 0 24 12" width="24" height="12" aria-hidden="true">
      {shape === "line" ? (
        <path d="M0 6h24" stroke={colour} strokeWidth="2.5" strokeDasharray={dash} />
      ) : shape === "dot" ? (
        <circle cx="12" cy="6" r="4" fill={colour} />
      ) : shape === "mark" ? (
        <path d="M12 1l5 10H7z" fill={colour} />
      ) : shape === "down mark" ? (
        <path d="M12 11l5 -10H7z" fill={colour} />
      ) : (
        <rect
          x="2"
          y="1"
          width="20"
          height="10"
          fill={colour}
          fillOpacity={shape === "area" ? 0.3 : 1}
          stroke={colour}
        />
      )}
    </svg>
  );
}
