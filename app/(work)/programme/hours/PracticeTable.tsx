import { serverWords } from "@/app/_server/language";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { type CrewLearning, practiceFactor } from "@/lib/hours";
import type { CompletedEnds } from "@/lib/programme";
import { SCHEMES } from "@/lib/site";
import { figureOf } from "./words";

/** Ends that each crew has finished of each scheme, and its factor on the next one. */
export async function PracticeTable({ ends, learning }: { ends: CompletedEnds; learning: CrewLearning }) {
  const words = await serverWords();
  const { t } = words;
  const schemes = SCHEMES.filter((s) => Object.values(ends).some((own) => own[s] !== undefined));
  return (
    <ScrollRegion label={t("Practice by crew and scheme")} className="max-md:px-4">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">{t("Crew")}</th>
            {schemes.map((s) => (
              <th scope="col" key={s}>
                {t(s)}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {Object.keys(ends)
            .sort()
            .map((crew) => (
              <tr key={crew}>
                <th scope="row" data-label={t("Crew")}>
                  {crew}
                </th>
                {schemes.map((s) => {
                  const count = ends[crew]?.[s] ?? 0;
                  return (
                    <td key={s} data-label={t(s)}>
                      <span>
                        {figureOf("crew", practiceFactor(count, learning), words)}{" "}
                        <span className="text-quiet">{t("after {{count}} ends", { count })}</span>
                      </span>
                    </td>
                  );
                })}
              </tr>
            ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
