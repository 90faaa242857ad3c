import { memo } from "react";
import type { PlacedBlock } from "./geometry";
import { signLines } from "./signs";

/** Signs of all blocks of a row. */
export const BoardSigns = memo(function BoardSigns({
  blocks,
  lanePx,
}: {
  blocks: readonly PlacedBlock[];
  lanePx: number;
}) {
  return (
    <svg className="ui-board-signs" aria-hidden="true">
      {blocks.map((block) => (
        <path
          key={block.visit.id}
          d={signLines(block, lanePx)}
          data-kind={block.visit.kind}
          data-report={block.visit.report?.state}
          data-faint={block.visit.isFaint || undefined}
        />
      ))}
    </svg>
  );
});
