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
        <Signs key={block.visit.id} block={block} lanePx={lanePx} />
      ))}
    </svg>
  );
});

/** Of one block: worked out once, however often its row is drawn anew. */
const Signs = memo(function Signs({ block, lanePx }: { block: PlacedBlock; lanePx: number }) {
  return (
    <path
      d={signLines(block, lanePx)}
      data-kind={block.visit.kind}
      data-report={block.visit.report?.state}
      data-faint={block.visit.isFaint || undefined}
    />
  );
});
