import { formatClock, formatDate, formatNumber } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import type { Words } from "@/app/_ui/language/words";
import { Notice } from "@/app/_ui/Notice";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import type { CostChange, NamedVisit, VisitShift } from "@/lib/programme";
import { sayVisit } from "./sayVisit";
import type { SaidBroken } from "./why";

export interface Effect {
  shifts: VisitShift[];
  broken: SaidBroken[];
  changes: CostChange[];
  total: number;
}

const placeWords = (v: NamedVisit | undefined, { t, locale }: Words) =>
  v ? `${v.crewCode}, ${formatDate(v.startOn, "weekday", locale)} ${formatClock(v.startMin)}` : t("no place");

/** What an edit would do: rules it breaks, terms of the cost, visits with new times. */
export function EffectShown({ effect, brokenLead }: { effect: Effect; brokenLead?: string }) {
  const words = useWords();
  const { t, locale } = words;
  const { shifts, broken, changes } = effect;
  return (
    <>
      {broken.length > 0 ? (
        <Notice kind="problem" title={t("Breaks {{count}} hard rules", { count: broken.length })}>
          {brokenLead ? <p>{brokenLead}</p> : null}
          <ul>
            {broken.map((b) => (
              <li key={b.message}>
                <strong>{b.rule}</strong>: {b.message}
                {b.helps ? (
                  <div className="text-quiet">{t("What helps: {{remedy}}", { remedy: b.helps })}</div>
                ) : null}
              </li>
            ))}
          </ul>
        </Notice>
      ) : (
        <Notice
          kind="good"
          title={shifts.length === 0 ? t("It stands there already") : t("Breaks no hard rule")}
        >
          {shifts.length > 1 ? t("{{count}} visits get new times.", { count: shifts.length }) : null}
        </Notice>
      )}
      {changes.length > 0 ? (
        <ScrollRegion label={t("What it changes")}>
          <table className="ui-facts">
            <caption>{t("What it changes")}</caption>
            <thead>
              <tr>
                <th scope="col">{t("Term")}</th>
                <th scope="col" data-align="end">
                  {t("Now")}
                </th>
                <th scope="col" data-align="end">
                  {t("Then")}
                </th>
                <th scope="col" data-align="end">
                  {t("Change")}
                </th>
              </tr>
            </thead>
            <tbody>
              {changes.map((c) => (
                <tr key={c.label}>
                  <th scope="row">
                    {t(c.label)} <span className="ui-unit">{t(c.unit)}</span>
                  </th>
                  <td data-align="end">{formatNumber(c.before, 1, locale)}</td>
                  <td data-align="end">{formatNumber(c.after, 1, locale)}</td>
                  <td data-align="end">{signed(c.after - c.before, locale)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </ScrollRegion>
      ) : null}
      {shifts.length > 0 ? (
        <ScrollRegion label={t("Visits with new times")}>
          <table className="ui-facts">
            <caption>{t("Visits with new times")}</caption>
            <thead>
              <tr>
                <th scope="col">{t("Visit")}</th>
                <th scope="col">{t("From")}</th>
                <th scope="col">{t("To")}</th>
              </tr>
            </thead>
            <tbody>
              {shifts.map((s) => (
                <tr key={s.visitId}>
                  <th scope="row">{sayVisit(s.visitId, words)}</th>
                  <td>{placeWords(s.from, words)}</td>
                  <td>
                    {s.to
                      ? placeWords(s.to, words)
                      : t("no place: {{rule}}", { rule: s.unplaced?.rule ?? t("nothing fits") })}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </ScrollRegion>
      ) : null}
    </>
  );
}

export const signed = (value: number, locale: string) =>
  `${value > 0 ? "+" : ""}${formatNumber(value, 1, locale)}`;
