"use client";

import { useState } from "react";
import { Button } from "@/app/_ui/Button";
import { formatCount } from "@/app/_ui/format";
import type { BoardVisit } from "@/app/_ui/PlanBoard";
import { useToast } from "@/app/_ui/Toast";
import { pin } from "./actions";

/** What can be done with the visits that are picked. */
export function GroupBar(props: {
  planId: number;
  revision: number;
  picked: readonly BoardVisit[];
  onMove: () => void;
  onDone: () => void;
  onLetGo: () => void;
}) {
  const { planId, revision, picked, onMove, onDone, onLetGo } = props;
  const toast = useToast();
  const [busy, setBusy] = useState<"pin" | "free">();
  const crews = new Set(picked.map((v) => v.crewId)).size;

  async function setPinned(isPinned: boolean): Promise<void> {
    setBusy(isPinned ? "pin" : "free");
    const answer = await pin({ planId, revision, visitIds: picked.map((v) => v.id), isPinned });
    setBusy(undefined);
    const problem = answer.ok ? undefined : answer.problems[0];
    toast(
      problem
        ? { kind: "problem", text: `${problem.message} ${problem.remedy}` }
        : {
            kind: "good",
            text: `${isPinned ? "Pinned" : "Unpinned"}: ${formatCount(picked.length, "visit")}.`,
          },
    );
    onDone();
  }

  return (
    <section className="ui-board-group" aria-label="Picked visits">
      <strong>
        {formatCount(picked.length, "visit")} of {formatCount(crews, "crew")} picked
      </strong>
      <Button size="small" kind="primary" onClick={onMove}>
        Move them …
      </Button>
      <Button size="small" glyph="pinned" busy={busy === "pin"} onClick={() => setPinned(true)}>
        Pin
      </Button>
      <Button size="small" busy={busy === "free"} onClick={() => setPinned(false)}>
        Unpin
      </Button>
      <Button size="small" kind="plain" onClick={onLetGo}>
        Let go
      </Button>
    </section>
  );
}
