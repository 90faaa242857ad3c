import { LinkButton } from "@/app/_ui/Button";
import { formatCount } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { DraftActions } from "./DraftActions";

export interface DraftNoticeProps {
  planId: number;
  revision: number;
  inForceId: number | null;
  /** What was done by hand and not undone. */
  edits: readonly { no: number; sentence: string; visits: number; broken: number }[];
  mayDecide: boolean;
}

/** What a draft is, the edits made by hand in it, and what can be done with it. */
export function DraftNotice({ planId, revision, inForceId, edits, mayDecide }: DraftNoticeProps) {
  return (
    <div className="grid gap-2 ui-no-print">
      <Notice
        kind="info"
        title={`Draft ${planId}: nobody works by it yet`}
        action={<LinkButton href={`/plan/compare?plan=${planId}`}>Compare with the plan in force</LinkButton>}
      >
        {edits.length > 0 ? (
          <details>
            <summary>{formatCount(edits.length, "edit")} by hand</summary>
            <ol>
              {edits.map((e) => (
                <li key={e.no}>
                  {e.sentence}
                  {e.visits > 1 ? `; ${formatCount(e.visits, "visit")} changed` : ""}
                  {e.broken > 0 ? `; broke ${formatCount(e.broken, "hard rule")}` : ""}
                </li>
              ))}
            </ol>
          </details>
        ) : (
          "Compare it, then put it in force or discard it."
        )}
      </Notice>
      {mayDecide ? (
        <div className="flex flex-wrap gap-2">
          <DraftActions planId={planId} revision={revision} inForceId={inForceId} />
        </div>
      ) : null}
    </div>
  );
}
