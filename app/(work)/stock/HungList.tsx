import Link from "next/link";
import { serverWords } from "@/app/_server/language";
import { formatDate } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { TAKEN_DOWN_WORDS } from "@/app/(work)/sites/[code]/takenDown";
import type { HungUnit } from "@/db/queries/hung";

/** Where a serial hangs, and hung before; the latest first. */
export async function HungList({ serial, units }: { serial: string; units: readonly HungUnit[] }) {
  const { t, locale } = await serverWords();
  if (units.length === 0) return null;
  return (
    <Panel title={t("Where {{serial}} hangs and hung", { serial })}>
      <ul>
        {units.map((h) => (
          <li key={h.id}>
            <Link href={`/hops/${encodeURIComponent(h.hopCode)}`}>{h.hopCode}</Link>{" "}
            {t("{{side}} end, {{position}}: since {{day}}, recorded by {{name}}", {
              side: t(h.side),
              position: h.oduLabel,
              day: formatDate(h.hungOn, "full", locale),
              name: h.recordedBy,
            })}
            {h.endedOn === null
              ? ""
              : `; ${t("to {{day}}, {{why}}", {
                  day: formatDate(h.endedOn, "full", locale),
                  why: t(TAKEN_DOWN_WORDS[h.endedWhy!]),
                })}`}
          </li>
        ))}
      </ul>
    </Panel>
  );
}
