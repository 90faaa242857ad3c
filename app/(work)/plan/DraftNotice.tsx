import { serverWords } from "@/app/_server/language";
import { LinkButton } from "@/app/_ui/Button";
import { Notice } from "@/app/_ui/Notice";
import type { Phrase } from "@/lib/phrase";
import type { InForceEffect } from "@/lib/programme";
import { DraftActions } from "./DraftActions";

export interface DraftNoticeProps {
  planId: number;
  revision: number;
  inForceId: number | null;
  /** What was done by hand and not undone. */
  edits: readonly { no: number; sentence: Phrase; visits: number; broken: number }[];
  mayDecide: boolean;
  effect: InForceEffect;
}

/** What a draft is, the edits made by hand in it, and what can be done with it. */
export async function DraftNotice({
  planId,
  revision,
  inForceId,
  edits,
  mayDecide,
  effect,
}: DraftNoticeProps) {
  const { t, say } = await serverWords();
  return (
    <div className="grid gap-2 ui-no-print">
      <Notice
        kind="info"
        title={t("Draft {{plan}}: nobody works by it yet", { plan: String(planId) })}
        action={
          <LinkButton href={`/plan/compare?plan=${planId}`}>{t("Compare with the plan in force")}</LinkButton>
        }
      >
        {edits.length > 0 ? (
          <details>
            <summary>{t("{{count}} edits by hand", { count: edits.length })}</summary>
            <ol>
              {edits.map((e) => (
                <li key={e.no}>
                  {say(e.sentence)}
                  {e.visits > 1 ? t("; {{count}} visits changed", { count: e.visits }) : ""}
                  {e.broken > 0 ? t("; broke {{count}} hard rules", { count: e.broken }) : ""}
                </li>
              ))}
            </ol>
          </details>
        ) : (
          t("Compare it, then put it in force or discard it.")
        )}
        {mayDecide ? (
          <div className="flex flex-wrap gap-2 mt-2">
            <DraftActions planId={planId} revision={revision} inForceId={inForceId} effect={effect} />
          </div>
        ) : null}
      </Notice>
    </div>
  );
}
