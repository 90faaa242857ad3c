import { serverWords } from "@/app/_server/language";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import type { BacktestLine, Errors } from "@/lib/calibration";
import { biasWords, percent } from "./words";

/** How far off the estimates were, line by line, in force and as proposed on actuals held out. */
export async function BacktestTable({
  label,
  head,
  lines,
  withProposed,
}: {
  label: string;
  head: string;
  lines: readonly (BacktestLine & { name?: string })[];
  withProposed: boolean;
}) {
  const words = await serverWords();
  const { t, locale } = words;
  return (
    <ScrollRegion label={label} className="max-md:px-4">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">{head}</th>
            <th scope="col">{t("Actuals")}</th>
            <th scope="col">{t("Error in force")}</th>
            <th scope="col">{t("Estimates in force are")}</th>
            {withProposed ? (
              <>
                <th scope="col">{t("Between P10 and P90")}</th>
                <th scope="col">{t("Error as proposed")}</th>
                <th scope="col">{t("Proposed are")}</th>
                <th scope="col">{t("Between P10 and P90 as proposed")}</th>
              </>
            ) : null}
          </tr>
        </thead>
        <tbody>
          {lines.map((l) => (
            <tr key={l.key}>
              <th scope="row" data-label={head}>
                {l.name ?? l.key}
              </th>
              <td data-label={t("Actuals")}>{l.inForce.actuals}</td>
              <td data-label={t("Error in force")}>{percent(l.inForce.mape, locale)}</td>
              <td data-label={t("Estimates in force are")}>{biasWords(l.inForce, words)}</td>
              {withProposed ? <Proposed inForce={l.inForce} proposed={l.proposed} /> : null}
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

async function Proposed({ inForce, proposed }: { inForce: Errors; proposed?: Errors }) {
  const words = await serverWords();
  const { t, locale } = words;
  return (
    <>
      <td data-label={t("Between P10 and P90")}>{percent(inForce.coverage, locale)}</td>
      <td data-label={t("Error as proposed")}>
        <strong>{percent(proposed?.mape, locale)}</strong>
      </td>
      <td data-label={t("Proposed are")}>{proposed ? biasWords(proposed, words) : "\u2013"}</td>
      <td data-label={t("Between P10 and P90 as proposed")}>{percent(proposed?.coverage, locale)}</td>
    </>
  );
}
