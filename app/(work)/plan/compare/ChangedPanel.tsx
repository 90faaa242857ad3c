import Link from "next/link";
import { serverWords } from "@/app/_server/language";
import { Disclosure } from "@/app/_ui/Disclosure";
import type { Words } from "@/app/_ui/language/words";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { CHANGE_KINDS, type ChangedVisit, type ChangeKind } from "@/lib/programme";
import { placeWords } from "../placeWords";
import { sayVisit } from "../sayVisit";
import { shiftWords } from "../shiftWords";
import { More, ROWS_SHOWN } from "./More";

/** Longer groups begin folded: what is listed under them is seen first. */
const OPEN_UP_TO = 12;

export interface ChangedPanelProps {
  planId: number;
  changed: readonly ChangedVisit[];
  /** What the figures count as moved; undefined without a plan to compare with. */
  figure?: number;
}

/** Every visit that the plan changes, by what changes of it. */
export async function ChangedPanel({ planId, changed, figure }: ChangedPanelProps) {
  const words = await serverWords();
  const { t } = words;
  const groups = CHANGE_KINDS.map((kind) => ({ kind, visits: changed.filter((c) => c.kind === kind) }));
  const withoutHours = changed.filter((c) => c.kind !== "hours").length;
  return (
    <Panel title={t("Visits that change")} note={t("{{count}} visits", { count: changed.length })} flush>
      {changed.length === 0 ? (
        <p className="px-4 py-3">{t("No visit has another crew, day, start or end.")}</p>
      ) : (
        <div className="grid gap-2 px-4 py-3">
          {groups
            .filter(({ visits }) => visits.length > 0)
            .map(({ kind, visits }) => (
              <Disclosure
                key={kind}
                summary={groupWords(kind, visits.length, words)}
                open={visits.length <= OPEN_UP_TO}
                isOpenOnPaper
              >
                <ChangedTable
                  planId={planId}
                  label={groupWords(kind, visits.length, words)}
                  visits={visits.slice(0, ROWS_SHOWN)}
                  words={words}
                />
                <More count={visits.length - ROWS_SHOWN} />
              </Disclosure>
            ))}
          {figure !== undefined && withoutHours !== figure ? (
            <p className="text-quiet">
              {t(
                "The figure “Moved against the plan in force” is {{figure}}: it counts another crew or day of visits that had a place and are still to come.",
                { figure },
              )}
            </p>
          ) : null}
        </div>
      )}
    </Panel>
  );
}

function ChangedTable(props: {
  planId: number;
  label: string;
  visits: readonly ChangedVisit[];
  words: Words;
}) {
  const { planId, label, visits, words } = props;
  const { t } = words;
  return (
    <ScrollRegion label={label}>
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">{t("Visit")}</th>
            <th scope="col">{t("Was")}</th>
            <th scope="col">{t("Now")}</th>
            <th scope="col">{t("Changes")}</th>
          </tr>
        </thead>
        <tbody>
          {visits.map((c) => (
            <tr key={c.visitId}>
              <th scope="row" data-label={t("Visit")}>
                <Link href={`/plan?plan=${planId}&visit=${encodeURIComponent(c.visitId)}`}>
                  {sayVisit(c.visitId, words)}
                </Link>
              </th>
              <td data-label={t("Was")}>{placeWords(c.from, words)}</td>
              <td data-label={t("Now")}>{placeWords(c.to, words)}</td>
              <td data-label={t("Changes")}>{shiftWords(c.from, c.to, words)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

function groupWords(kind: ChangeKind, count: number, { t }: Words): string {
  switch (kind) {
    case "day":
      return t("{{count}} visits on another day", { count });
    case "crew":
      return t("{{count}} visits on the same day with another crew", { count });
    case "new":
      return t("{{count}} visits newly placed", { count });
    case "gone":
      return t("{{count}} visits without a place from now on", { count });
    case "hours":
      return t("{{count}} visits on the same day with other hours", { count });
  }
}
