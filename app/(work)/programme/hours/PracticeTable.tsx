import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { type CrewLearning, practiceFactor } from "@/lib/hours";
import type { CompletedEnds } from "@/lib/programme";
import { SCHEMES } from "@/lib/site";
import { figureOf } from "./words";

/** Ends that each crew has finished of each scheme, and its factor on the next one. */
export function PracticeTable({ ends, learning }: { ends: CompletedEnds; learning: CrewLearning }) {
  const schemes = SCHEMES.filter((s) => Object.values(ends).some((own) => own[s] !== undefined));
  return (
    <ScrollRegion label="Practice by crew and scheme" className="max-md:px-4">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">Crew</th>
            {schemes.map((s) => (
              <th scope="col" key={s}>
                {s}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {Object.keys(ends)
            .sort()
            .map((crew) => (
              <tr key={crew}>
                <th scope="row" data-label="Crew">
                  {crew}
                </th>
                {schemes.map((s) => {
                  const count = ends[crew]?.[s] ?? 0;
                  return (
                    <td key={s} data-label={s}>
                      <span>
                        {figureOf("crew", practiceFactor(count, learning))}{" "}
                        <span className="text-quiet">
                          after {count} {count === 1 ? "end" : "ends"}
                        </span>
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
