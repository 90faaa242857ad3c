"use client";

import type { ReactNode } from "react";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { Tag } from "@/app/_ui/StateMark";
import type { SessionRow } from "./sessionWords";

/** Where somebody is signed in. `actionOf` puts what can be done at the end of a row. */
export function SessionTable({
  rows,
  actionOf,
}: {
  rows: readonly SessionRow[];
  actionOf?: (row: SessionRow) => ReactNode;
}) {
  const { t } = useWords();
  return (
    <ScrollRegion label={t("Sessions")} className="max-md:px-4">
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">{t("Device")}</th>
            <th scope="col">{t("Signed in")}</th>
            <th scope="col">{t("Last renewed")}</th>
            <th scope="col">{t("From")}</th>
            {actionOf ? (
              <th scope="col">
                <span className="sr-only">{t("End (verb)")}</span>
              </th>
            ) : null}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.id}>
              <th scope="row" data-label={t("Device")}>
                <div>
                  {t(row.device)} {row.isThis ? <Tag>{t("This one")}</Tag> : null}
                  <span className="text-quiet block font-normal [overflow-wrap:anywhere]">{row.browser}</span>
                </div>
              </th>
              <td data-label={t("Signed in")}>{row.startedAt}</td>
              <td data-label={t("Last renewed")}>{row.renewedAt}</td>
              <td data-label={t("From")}>{row.address || t("unknown")}</td>
              {actionOf ? <td>{actionOf(row)}</td> : null}
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
