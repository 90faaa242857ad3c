"use client";

import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { formatCount } from "@/app/_ui/format";
import { ProblemList } from "@/app/_ui/ProblemList";
import { propose } from "./actions";

/** One press makes proposed orders of everything that is due; a second press makes none. */
export function ProposeButton({ count }: { count: number }) {
  const { send, busy, problems } = useSend(propose);
  return (
    <>
      <Button
        kind="primary"
        busy={busy}
        onClick={() =>
          send({}, (codes) =>
            codes.length === 0
              ? "Everything due is on proposed orders already"
              : `Proposed ${formatCount(codes.length, "order")}: ${codes.join(", ")}`,
          )
        }
      >
        Propose orders for {formatCount(count, "line")}
      </Button>
      <ProblemList problems={problems} />
    </>
  );
}
