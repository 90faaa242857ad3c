import { formatDuration } from "@/app/_ui/format";
import { Tag } from "@/app/_ui/StateMark";
import type { CrewStep } from "@/lib/programme";

/** The steps in order, each with its figures and cautions. */
export function StepList({ steps }: { steps: readonly CrewStep[] }) {
  return (
    <ol className="grid gap-3">
      {steps.map((s, i) => (
        <li key={s.id} className="border-line grid gap-1 border-b pb-3 last:border-b-0">
          <p className="flex flex-wrap items-baseline gap-x-2">
            <strong>
              {i + 1}. {s.name}
            </strong>
            <Tag>{s.where}</Tag>
            <span className="text-quiet">
              {formatDuration(s.endMin - s.startMin)}, {s.people} {s.people === 1 ? "person" : "people"}
            </span>
          </p>
          {s.figures.length > 0 ? (
            <ul className="list-disc pl-5">
              {s.figures.map((f) => (
                <li key={f}>{f}</li>
              ))}
            </ul>
          ) : null}
          {s.cautions.map((c) => (
            <p key={c} className="font-semibold">
              Caution: {c}
            </p>
          ))}
        </li>
      ))}
    </ol>
  );
}
