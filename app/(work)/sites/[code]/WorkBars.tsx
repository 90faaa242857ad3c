import { formatDuration } from "@/app/_ui/format";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import type { CrewComposition, EndEstimate, EndTask } from "@/lib/hours";

const LOOKS: Readonly<Record<EndTask["where"], { word: string; fill: string; ink: string }>> = {
  aloft: { word: "aloft", fill: "var(--petrol)", ink: "var(--surface)" },
  ground: { word: "ground", fill: "var(--line)", ink: "var(--ink)" },
  indoor: { word: "indoor", fill: "var(--surface)", ink: "var(--ink)" },
  "both ends": { word: "both ends", fill: "var(--steel)", ink: "var(--surface)" },
};

const ROW_PX = 34;

/** Minutes from the begin as `2 h 05`. */
function clockOf(min: number): string {
  const whole = Math.round(min);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
}

export function personWords(crew: CrewComposition, index: number): string {
  const skills = crew.people[index];
  return skills ? `Person ${index + 1}: ${skills.join(", ")}` : `Person ${index + 1} (borrowed)`;
}

/**
 * Who does what when: people down, hours across. A number in a bar is the task's row in the table below, which says
 * the same. Critical tasks carry a thick lower edge and a star.
 */
export function WorkBars({ estimate, crew }: { estimate: EndEstimate; crew: CrewComposition }) {
  const { sequence } = estimate;
  const tasks = new Map(estimate.tasks.map((t) => [t.id, t]));
  const endMin = Math.max(...sequence.map((s) => s.endMin), 60);
  const people = Math.max(crew.people.length, ...sequence.flatMap((s) => s.people.map((p) => p + 1)));
  const share = (min: number) => `${(100 * min) / endMin}%`;
  const hours = Array.from({ length: Math.floor(endMin / 60) + 1 }, (_, h) => h);
  return (
    <div className="grid gap-4">
      <ScrollRegion label="Work by person and hour; the table below says the same">
        <div aria-hidden="true" className="relative" style={{ minWidth: 860 }}>
          <div className="ml-44 relative h-6 text-sm">
            {hours.map((h) => (
              <span key={h} className="absolute text-quiet" style={{ left: share(h * 60) }}>
                {h} h
              </span>
            ))}
          </div>
          {Array.from({ length: people }, (_, p) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: people have no other name than their place in the crew
            <div key={p} className="flex items-stretch" style={{ borderTop: "1px solid var(--line)" }}>
              <div className="w-44 shrink-0 pr-2 text-sm leading-tight self-center">
                {personWords(crew, p)}
              </div>
              <div className="relative grow" style={{ height: ROW_PX }}>
                {hours.map((h) => (
                  <span
                    key={h}
                    className="absolute top-0 bottom-0"
                    style={{ left: share(h * 60), borderLeft: "1px dotted var(--line)" }}
                  />
                ))}
                {sequence.map((s, row) => {
                  const task = tasks.get(s.taskId);
                  if (!task || !s.people.includes(p) || s.endMin <= s.startMin) return null;
                  const look = LOOKS[task.where];
                  const isWide = (s.endMin - s.startMin) / endMin > 0.02;
                  return (
                    <span
                      key={s.taskId}
                      title={`${row + 1}. ${task.name}, ${clockOf(s.startMin)} to ${clockOf(s.endMin)}${s.critical ? ", critical" : ""}`}
                      className="absolute overflow-hidden whitespace-nowrap px-0.5 text-xs"
                      style={{
                        left: share(s.startMin),
                        width: `calc(${share(s.endMin - s.startMin)} - 1px)`,
                        top: 4,
                        height: ROW_PX - 8,
                        lineHeight: `${ROW_PX - 12}px`,
                        background: look.fill,
                        color: look.ink,
                        border: "1px solid var(--edge)",
                        borderBottom: s.critical ? "4px solid var(--brick)" : "1px solid var(--edge)",
                      }}
                    >
                      {isWide ? row + 1 : ""}
                    </span>
                  );
                })}
              </div>
            </div>
          ))}
          <p className="mt-2 flex flex-wrap gap-4 text-sm">
            {Object.values(LOOKS)
              .slice(0, 3)
              .map((l) => (
                <span key={l.word} className="inline-flex items-center gap-2">
                  <span
                    className="inline-block h-3 w-6"
                    style={{ background: l.fill, border: "1px solid var(--edge)" }}
                  />
                  {l.word}
                </span>
              ))}
            <span className="inline-flex items-center gap-2">
              <span
                className="inline-block h-3 w-6"
                style={{ border: "1px solid var(--edge)", borderBottom: "4px solid var(--brick)" }}
              />
              critical
            </span>
          </p>
        </div>
      </ScrollRegion>
      <ScrollRegion label="Tasks in order">
        <table className="ui-facts">
          <thead>
            <tr>
              <th scope="col" data-align="end">
                No.
              </th>
              <th scope="col">Task</th>
              <th scope="col" data-align="end">
                From
              </th>
              <th scope="col" data-align="end">
                To
              </th>
              <th scope="col">Critical</th>
              <th scope="col">Where</th>
              <th scope="col">People</th>
              <th scope="col">Range</th>
            </tr>
          </thead>
          <tbody>
            {sequence.map((s, row) => {
              const task = tasks.get(s.taskId);
              return (
                <tr key={s.taskId}>
                  <td data-align="end">{row + 1}</td>
                  <th scope="row">{task?.name ?? s.taskId}</th>
                  <td data-align="end">{clockOf(s.startMin)}</td>
                  <td data-align="end">{clockOf(s.endMin)}</td>
                  <td>{s.critical ? "★ critical" : ""}</td>
                  <td>{task ? LOOKS[task.where].word : ""}</td>
                  <td>{s.people.map((p) => p + 1).join(", ")}</td>
                  <td>
                    {task
                      ? `${formatDuration(task.duration.aMin)}, ${formatDuration(task.duration.mMin)}, ${formatDuration(task.duration.bMin)}`
                      : ""}
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </ScrollRegion>
    </div>
  );
}
