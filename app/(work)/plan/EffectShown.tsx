import { Disclosure } from "@/app/_ui/Disclosure";
import { formatNumber } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Notice } from "@/app/_ui/Notice";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import type { CostChange } from "@/lib/programme";
import { placeWords } from "./placeWords";
import { sayVisit } from "./sayVisit";
import type { SaidBroken, SaidShift } from "./why";

export interface Effect {
  shifts: SaidShift[];
  broken: SaidBroken[];
  /** Broken before it already. */
  brokenBefore: SaidBroken[];
  changes: CostChange[];
  total: number;
}

/** What an edit would do: rules it breaks, terms of the cost, visits with new times. */
export function EffectShown({ effect, brokenLead }: { effect: Effect; brokenLead?: string }) {
  const words = useWords();
  const { t, locale } = words;
  const { shifts, broken, brokenBefore, changes } = effect;
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
      {brokenBefore.length > 0 ? (
        <Disclosure
          summary={t("{{count}} hard rules were broken before this move already", {
            count: brokenBefore.length,
          })}
        >
          <p>
            {t(
              "Data changed since the plan was made, or an earlier move broke them. This move neither breaks nor mends them. Those that the plan in force keeps stop a draft from being put in force.",
            )}
          </p>
          <ul>
            {brokenBefore.map((b) => (
              <li key={b.message}>
                <strong>{b.rule}</strong>: {b.message}
              </li>
            ))}
          </ul>
        </Disclosure>
      ) : null}
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
                  <td data-align="end">{signed(c.change, locale)}</td>
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
                <th scope="col">{t("Changes")}</th>
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
                  <td>{s.changes}</td>
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
