import { serverWords } from "@/app/_server/language";
import { formatDuration } from "@/app/_ui/format";
import { Tag } from "@/app/_ui/StateMark";
import type { CrewStep } from "@/lib/programme";

/** Steps of the whole visit in order, with their figures and cautions. */
export async function StepList({ steps }: { steps: readonly CrewStep[] }) {
  const { t, task, say } = await serverWords();
  return (
    <ol className="grid gap-3">
      {steps.map((s, i) => (
        <li key={s.id} data-where={s.where} className="border-line grid gap-1 border-b pb-3 last:border-b-0">
          <p className="flex flex-wrap items-baseline gap-x-2">
            <strong>
              {i + 1}. {task(s.name)}
            </strong>
            <Tag>{t(s.where)}</Tag>
            <span className="text-quiet">
              {formatDuration(s.endMin - s.startMin)}, {t("{{count}} people", { count: s.people })}
            </span>
          </p>
          {s.figures.length > 0 ? (
            <ul className="list-disc pl-5">
              {s.figures.map(say).map((f) => (
                <li key={f}>{f}</li>
              ))}
            </ul>
          ) : null}
          {s.cautions.map(say).map((c) => (
            <p key={c} className="font-semibold">
              {t("Caution")}: {c}
            </p>
          ))}
        </li>
      ))}
    </ol>
  );
}
