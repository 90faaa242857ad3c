import Link from "next/link";
import type { ReactNode } from "react";
import { Glyph } from "./Glyph";
import { SaidGlyph } from "./language/SaidGlyph";

export interface StatProps {
  label: ReactNode;
  /** Already formatted for the reader's locale (format.ts). */
  figure: ReactNode;
  unit?: string;
  /** Against what: "of 412", "limit 13 m/s", "promised 3 Mar". */
  limit?: ReactNode;
  /** Movement since the last look; the words say whether that is good. */
  trend?: { direction: "up" | "down" | "level"; words: string };
  tone?: "plain" | "good" | "warn" | "problem";
  /** Makes the whole tile a link to the page that explains the figure. */
  href?: string;
}

/** One figure that answers a question. Put several in a StatRow. */
export function Stat({ label, figure, unit, limit, trend, tone = "plain", href }: StatProps) {
  const words = href ? (
    <Link className="ui-stat-link" href={href}>
      {label}
    </Link>
  ) : (
    label
  );
  return (
    <div className="ui-stat" data-tone={tone}>
      <span className="ui-stat-label">{words}</span>
      <span className="ui-stat-figure">
        {tone === "warn" || tone === "problem" ? (
          <SaidGlyph
            name={tone === "warn" ? "warn" : "late"}
            label={tone === "warn" ? "Check" : "Problem"}
            className="ui-stat-sign"
          />
        ) : null}
        {figure} {unit ? <small>{unit}</small> : null}
      </span>
      {limit || trend ? (
        <span className="ui-stat-note">
          {limit ? <span>{limit}</span> : null}
          {trend ? (
            <span className="inline-flex items-center gap-1">
              <Glyph name={trend.direction === "level" ? "minus" : trend.direction} />
              {trend.words}
            </span>
          ) : null}
        </span>
      ) : null}
    </div>
  );
}

/** Tiles in a row that wraps; hairlines between them. */
export function StatRow({ children }: { children: ReactNode }) {
  return <div className="ui-stats">{children}</div>;
}
