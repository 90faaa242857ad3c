/** Which visits of the two plans stand before a gate that is not open by then: neither can be worked as it stands. */
import Link from "next/link";
import { serverWords } from "@/app/_server/language";
import { formatDate } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { hopPath } from "@/app/(work)/hops/hopStates";
import type { ShutGate } from "@/lib/programme";
import { sayVisit } from "../sayVisit";
import { ROWS_SHOWN } from "./More";

export interface PlanGates {
  planId: number;
  /** By hop (`shutGatesOf`). */
  shut: ReadonlyMap<string, readonly ShutGate[]>;
}

/** One notice for both plans; nothing where no gate holds a visit of either. */
export async function GatesNotice({ plans }: { plans: readonly PlanGates[] }) {
  const { t } = await serverWords();
  const held = plans.map(({ planId, shut }) => ({
    planId,
    gates: [...shut].flatMap(([hopCode, gates]) => gates.map((gate) => ({ hopCode, ...gate }))),
  }));
  if (held.every(({ gates }) => gates.length === 0)) return null;
  return (
    <Notice kind="warn" title={t("Visits that stand before a gate opens")}>
      {held.map(({ planId, gates }) => (
        <div key={planId}>
          <strong>{t("Plan {{plan}}", { plan: String(planId) })}</strong>
          {gates.length === 0 ? `: ${t("none")}` : null}
          {gates.length > 0 ? (
            <ul>
              {gates.slice(0, ROWS_SHOWN).map((g) => (
                <li key={`${g.hopCode} ${g.gate.side} ${g.gate.kind}`}>
                  <Link href={hopPath(g.hopCode)}>{g.hopCode}</Link>: <HeldVisits of={g} />
                </li>
              ))}
              {gates.length > ROWS_SHOWN ? (
                <li>{t("and {{more}} more", { more: gates.length - ROWS_SHOWN })}</li>
              ) : null}
            </ul>
          ) : null}
        </div>
      ))}
      <p>
        {t(
          "Such a plan cannot be worked as it stands: solve anew, or move these visits. A hop counts as late from the later of its planned end and its gate.",
        )}
      </p>
    </Notice>
  );
}

async function HeldVisits({ of: { gate, visits } }: { of: ShutGate }) {
  const words = await serverWords();
  const { t, locale } = words;
  const day = (on: Parameters<typeof formatDate>[0]) => formatDate(on, "weekday", locale);
  const said = {
    gate: t(gate.kind),
    visits: visits
      .map((v) => t("{{visit}} ({{when}})", { visit: sayVisit(v.visitId, words), when: day(v.startOn) }))
      .join(", "),
  };
  return gate.state === "open" || gate.dueOn === undefined
    ? t("its gate ({{gate}}) is open and has no date; before it: {{visits}}", said)
    : t("its gate ({{gate}}) opens on {{from}}; before it: {{visits}}", { ...said, from: day(gate.dueOn) });
}
