import { serverWords } from "@/app/_server/language";
import { Disclosure } from "@/app/_ui/Disclosure";
import { formatQuantity } from "@/app/_ui/format";
import { checkText } from "@/app/_ui/language/checkText";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { DesignCheck } from "@/lib/takeoff";

const ORDER = { fail: 0, warn: 1, pass: 2 } as const;
export const CHECK_STATES = { fail: "Fails", warn: "Check", pass: "Within limits" } as const;

/** Checks with figure, limit and remedy; what fails first, what passes behind a disclosure. */
export async function CheckList({ checks, label }: { checks: readonly DesignCheck[]; label: string }) {
  const { t } = await serverWords();
  const sorted = [...checks].sort((a, b) => ORDER[a.state] - ORDER[b.state]);
  const findings = sorted.filter((c) => c.state !== "pass");
  const passed = sorted.filter((c) => c.state === "pass");
  return (
    <>
      {findings.length > 0 ? (
        <CheckTable checks={findings} label={t("{{label}}: findings", { label })} />
      ) : (
        <p>
          <StateMark state="pass">{t("No findings")}</StateMark>
        </p>
      )}
      {passed.length > 0 ? (
        <Disclosure
          summary={t("{{checks}} within limits", { checks: t("{{count}} checks", { count: passed.length }) })}
        >
          <CheckTable checks={passed} label={t("{{label}}: within limits", { label })} />
        </Disclosure>
      ) : null}
    </>
  );
}

async function CheckTable({ checks, label }: { checks: readonly DesignCheck[]; label: string }) {
  const words = await serverWords();
  const { t, locale } = words;
  return (
    <ScrollRegion label={label}>
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">{t("State")}</th>
            <th scope="col">{t("Where")}</th>
            <th scope="col">{t("What")}</th>
            <th scope="col">{t("Figure")}</th>
            <th scope="col">{t("Limit")}</th>
            <th scope="col">{t("What to do")}</th>
          </tr>
        </thead>
        <tbody>
          {checks.map((c) => (
            <tr key={`${c.rule} ${c.where} ${c.message}`}>
              <td data-label={t("State")}>
                <StateMark state={c.state}>{t(CHECK_STATES[c.state])}</StateMark>
              </td>
              <th data-label={t("Where")} scope="row">
                {t(c.where)}
              </th>
              <td data-label={t("What")} className="min-w-64">
                {checkText(c.message, words)}
              </td>
              <td data-label={t("Figure")}>{formatQuantity(c.figure, c.unit ?? "", 2, locale)}</td>
              <td data-label={t("Limit")}>{formatQuantity(c.limit, c.unit ?? "", 2, locale)}</td>
              <td data-label={t("What to do")} className="min-w-56">
                {checkText(c.remedy, words)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
