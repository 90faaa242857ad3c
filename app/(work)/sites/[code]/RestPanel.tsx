import { formatDate, formatNumber } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { restFactor } from "@/lib/hours";
import type { RestDay } from "@/lib/programme";

const degrees = (c: number) => `${formatNumber(c, 0)} \u00b0C`;

/** Which days of the forecast ask for rest, by which figure, and what that makes of outdoor work. */
export function RestPanel({ days, source }: { days: readonly RestDay[]; source: string }) {
  const resting = days.filter((d) => d.restMinPerH > 0);
  const hottest = Math.max(...days.map((d) => d.hottestC));
  const coldest = Math.min(...days.map((d) => d.coldestC));
  return (
    <Panel
      title="Rest for heat and cold"
      note={`Minutes of each hour outdoors by the steps of the hour norms (${source}). The plan stretches the forecast's days by it.`}
      flush
    >
      {days.length === 0 ? (
        <p className="px-4 py-3">No hour of the shift lies in the forecast.</p>
      ) : resting.length === 0 ? (
        <p className="px-4 py-3">
          None in the days of the forecast: in the shift the heat index reaches {degrees(hottest)} at most,
          the wind chill at the mount {degrees(coldest)} at least.
        </p>
      ) : (
        <ScrollRegion label="Rest for heat and cold" className="max-md:px-4">
          <table className="ui-facts ui-facts-stack">
            <thead>
              <tr>
                <th scope="col">Day</th>
                <th scope="col">Why</th>
                <th scope="col">Rest, mean of the shift</th>
                <th scope="col">Outdoor work</th>
              </tr>
            </thead>
            <tbody>
              {resting.map((d) => (
                <tr key={d.on}>
                  <th scope="row" data-label="Day">
                    {formatDate(d.on, "weekday")}
                  </th>
                  <td data-label="Why">
                    {d.cause === "cold"
                      ? `wind chill down to ${degrees(d.coldestC)}`
                      : `heat index up to ${degrees(d.hottestC)}`}
                  </td>
                  <td data-label="Rest, mean of the shift">{formatNumber(d.restMinPerH, 0)} min/h</td>
                  <td data-label="Outdoor work">
                    {"\u00d7"} {formatNumber(restFactor(d.restMinPerH), 2, undefined, true)}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </ScrollRegion>
      )}
    </Panel>
  );
}
