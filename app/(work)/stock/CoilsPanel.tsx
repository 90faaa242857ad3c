import Link from "next/link";
import { serverWords } from "@/app/_server/language";
import { LinkButton } from "@/app/_ui/Button";
import { formatCm, formatDate } from "@/app/_ui/format";
import { visitName } from "@/app/_ui/language/visitName";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { CoilOnItsWay } from "@/db/queries/coils";
import type { CalendarDate } from "@/lib/time";
import { CoilHereButton } from "./CoilHereButton";
import { itemPath, kitPath, runWords } from "./words";

export interface CoilsPanelProps {
  rows: readonly CoilOnItsWay[];
  today: CalendarDate;
  mayPost: boolean;
}

/** What was cut at one warehouse for a kit of another, until it lies there. */
export async function CoilsPanel({ rows, today, mayPost }: CoilsPanelProps) {
  const { t, locale } = await serverWords();
  const label = t("Coils to bring over");
  return (
    <Panel
      title={t("Coils to bring over ({{number}})", { number: rows.length })}
      note={t(
        "Cut at one warehouse for a kit that another packs. The metres left their drum in the ledger with the cut; that the coil came over stands in the log.",
      )}
      flush
    >
      <ScrollRegion label={label}>
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              <th scope="col">{t("Run")}</th>
              <th scope="col">{t("Cable")}</th>
              <th scope="col" data-align="end">
                {t("Length")}
              </th>
              <th scope="col">{t("From")}</th>
              <th scope="col">{t("To")}</th>
              <th scope="col">{t("Cut")}</th>
              <th scope="col">{t("Kit is picked on")}</th>
              {mayPost ? (
                <th scope="col" data-align="end">
                  {t("Step")}
                </th>
              ) : null}
            </tr>
          </thead>
          <tbody>
            {rows.map((coil) => (
              <tr key={coil.runId}>
                <th scope="row" data-label={t("Run")}>
                  {runWords(coil.runId)}
                </th>
                <td data-label={t("Cable")}>
                  <Link href={itemPath(coil.itemCode)}>{coil.itemCode}</Link>
                </td>
                <td data-label={t("Length")} data-align="end">
                  {formatCm(coil.quantityC, locale)}
                </td>
                <td data-label={t("From")} className="whitespace-nowrap">
                  {coil.fromPlace}
                </td>
                <td data-label={t("To")} className="whitespace-nowrap">
                  {coil.toPlace}
                </td>
                <td data-label={t("Cut")}>
                  {t("{{day}} by {{name}}", {
                    day: formatDate(coil.cutOn, "weekday", locale),
                    name: coil.cutBy,
                  })}
                </td>
                <td data-label={t("Kit is picked on")}>
                  <Link href={kitPath(coil.visitId)}>
                    {formatDate(coil.pickOn, "weekday", locale)}
                    <span className="sr-only"> {visitName(coil.visitId, t)}</span>
                  </Link>{" "}
                  {coil.isOut ? (
                    <StateMark state="late">{t("has left without it")}</StateMark>
                  ) : coil.pickOn <= today ? (
                    <StateMark state={coil.pickOn < today ? "late" : "warn"}>
                      {coil.pickOn < today ? t("passed") : t("today")}
                    </StateMark>
                  ) : null}
                </td>
                {mayPost ? (
                  <td data-label={t("Step")} data-align="end">
                    {coil.isOut ? (
                      <LinkButton size="small" href={kitPath(coil.visitId)}>
                        {t("Send it after the kit")} <span className="sr-only">{runWords(coil.runId)}</span>
                      </LinkButton>
                    ) : (
                      <CoilHereButton {...{ coil }} words={runWords(coil.runId)} />
                    )}
                  </td>
                ) : null}
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
    </Panel>
  );
}
