import { serverWords } from "@/app/_server/language";
import { formatDate, formatNumber } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { restFactor } from "@/lib/hours";
import type { RestDay } from "@/lib/programme";

const degrees = (c: number, words: Words) => `${formatNumber(c, 0, words.locale)} \u00b0C`;

/** Which days of the forecast ask for rest, by which figure, and what that makes of outdoor work. */
export async function RestPanel({ days, source }: { days: readonly RestDay[]; source: string }) {
  const words = await serverWords();
  const { t, locale } = words;
  const resting = days.filter((d) => d.restMinPerH > 0);
  const hottest = Math.max(...days.map((d) => d.hottestC));
  const coldest = Math.min(...days.map((d) => d.coldestC));
  return (
    <Panel
      title={t("Rest for heat and cold")}
      note={t(
        "Minutes of each hour outdoors by the steps of the hour norms ({{source}}). The plan stretches the forecast's days by it.",
        { source: t(source) },
      )}
      flush
    >
      {days.length === 0 ? (
        <p className="px-4 py-3">{t("No hour of the shift lies in the forecast.")}</p>
      ) : resting.length === 0 ? (
        <p className="px-4 py-3">
          {t(
            "None in the days of the forecast: in the shift the heat index reaches {{hottest}} at most, the wind chill at the mount {{coldest}} at least.",
            { hottest: degrees(hottest, words), coldest: degrees(coldest, words) },
          )}
        </p>
      ) : (
        <ScrollRegion label={t("Rest for heat and cold")} className="max-md:px-4">
          <table className="ui-facts ui-facts-stack">
            <thead>
              <tr>
                <th scope="col">{t("Day")}</th>
                <th scope="col">{t("Why")}</th>
                <th scope="col">{t("Rest, mean of the shift")}</th>
                <th scope="col">{t("Outdoor work")}</th>
              </tr>
            </thead>
            <tbody>
              {resting.map((d) => (
                <tr key={d.on}>
                  <th scope="row" data-label={t("Day")}>
                    {formatDate(d.on, "weekday", locale)}
                  </th>
                  <td data-label={t("Why")}>
                    {d.cause === "cold"
                      ? t("wind chill down to {{coldestC}}", { coldestC: degrees(d.coldestC, words) })
                      : t("heat index up to {{hottestC}}", { hottestC: degrees(d.hottestC, words) })}
                  </td>
                  <td data-label={t("Rest, mean of the shift")}>
                    {t("{{restMinPer}} min/h", { restMinPer: formatNumber(d.restMinPerH, 0, locale) })}
                  </td>
                  <td data-label={t("Outdoor work")}>
                    {"\u00d7"} {formatNumber(restFactor(d.restMinPerH), 2, locale, true)}
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
