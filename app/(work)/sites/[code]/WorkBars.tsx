import { serverWords } from "@/app/_server/language";
import { formatDuration } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
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

export function personWords(crew: CrewComposition, index: number, words: Words): string {
  const { t } = words;
  const skills = crew.people[index];
  return skills
    ? t("Person {{index}}: {{skills}}", {
        index: index + 1,
        skills: skills.map((skill) => t(skill)).join(", "),
      })
    : t("Person {{index}} (borrowed)", { index: index + 1 });
}

/**
 * Who does what when: people down, hours across. A number in a bar is the task's row in the table below, which says
 * the same. Critical tasks carry a thick lower edge and a star.
 */
export async function WorkBars({ estimate, crew }: { estimate: EndEstimate; crew: CrewComposition }) {
  const words = await serverWords();
  const { t, locale } = words;
  const { sequence } = estimate;
  const tasks = new Map(estimate.tasks.map((task) => [task.id, task]));
  const endMin = Math.max(...sequence.map((s) => s.endMin), 60);
  const people = Math.max(crew.people.length, ...sequence.flatMap((s) => s.people.map((p) => p + 1)));
  const share = (min: number) => `${(100 * min) / endMin}%`;
  const hours = Array.from({ length: Math.floor(endMin / 60) + 1 }, (_, h) => h);
  return (
    <div className="grid gap-4">
      <ScrollRegion label={t("Work by person and hour; the table below says the same")}>
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
                {personWords(crew, p, words)}
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
                      title={`${row + 1}. ${words.task(task.name)}, ${t("{{from}} to {{to}}", { from: clockOf(s.startMin), to: clockOf(s.endMin) })}${s.critical ? `, ${t("critical")}` : ""}`}
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
                  {t(l.word)}
                </span>
              ))}
            <span className="inline-flex items-center gap-2">
              <span
                className="inline-block h-3 w-6"
                style={{ border: "1px solid var(--edge)", borderBottom: "4px solid var(--brick)" }}
              />
              {t("critical")}
            </span>
          </p>
        </div>
      </ScrollRegion>
      <ScrollRegion label={t("Tasks in order")}>
        <table className="ui-facts">
          <thead>
            <tr>
              <th scope="col" data-align="end">
                {t("No.")}
              </th>
              <th scope="col">{t("Task")}</th>
              <th scope="col" data-align="end">
                {t("From (range)")}
              </th>
              <th scope="col" data-align="end">
                {t("To (range)")}
              </th>
              <th scope="col">{t("Critical")}</th>
              <th scope="col">{t("Where")}</th>
              <th scope="col">{t("People")}</th>
              <th scope="col">{t("Range")}</th>
            </tr>
          </thead>
          <tbody>
            {sequence.map((s, row) => {
              const task = tasks.get(s.taskId);
              return (
                <tr key={s.taskId}>
                  <td data-align="end">{row + 1}</td>
                  <th scope="row">{task ? words.task(task.name) : s.taskId}</th>
                  <td data-align="end">{clockOf(s.startMin)}</td>
                  <td data-align="end">{clockOf(s.endMin)}</td>
                  <td>{s.critical ? `★ ${t("critical")}` : ""}</td>
                  <td>{task ? t(LOOKS[task.where].word) : ""}</td>
                  <td>{s.people.map((p) => p + 1).join(", ")}</td>
                  <td>
                    {task
                      ? `${formatDuration(task.duration.aMin, locale)}, ${formatDuration(task.duration.mMin, locale)}, ${formatDuration(task.duration.bMin, locale)}`
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
