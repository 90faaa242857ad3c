import { memo } from "react";
import { isNoteTight } from "./signs";
import type { BoardCrew } from "./types";

export interface CrewNamesProps {
  /** What is drawn of the board's rows, in order. */
  rows: readonly { crew: BoardCrew; topPx: number; heightPx: number }[];
  heightPx: number;
  crewPx: number;
}

/**
 * Names of all crews, as one piece that stays at the left; a screen reader hears them from their rows. Each name held
 * there on its own was a layer of its own, and parted its row from the next: two hundred layers, which the browser goes
 * through with every frame (docs/decisions/044).
 */
export function CrewNames({ rows, heightPx, crewPx }: CrewNamesProps) {
  return (
    <div className="ui-board-crews" aria-hidden="true" style={{ height: heightPx }}>
      {rows.map(({ crew, topPx, heightPx: rowHeightPx }) => (
        <CrewName key={crew.id} crew={crew} topPx={topPx} heightPx={rowHeightPx} crewPx={crewPx} />
      ))}
    </div>
  );
}

const CrewName = memo(function CrewName({
  crew,
  topPx,
  heightPx,
  crewPx,
}: {
  crew: BoardCrew;
  topPx: number;
  heightPx: number;
  crewPx: number;
}) {
  return (
    <div className="ui-board-crew" style={{ top: topPx, height: heightPx }}>
      <span className="ui-board-crew-code">{crew.code}</span>
      {crew.note ? (
        <span className="ui-board-crew-note" data-tight={isNoteTight(crew.note, crewPx) || undefined}>
          {crew.note}
        </span>
      ) : null}
    </div>
  );
});
