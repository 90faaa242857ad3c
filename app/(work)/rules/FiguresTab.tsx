import { EFFECT_FIRST, type WantedChange } from "@/app/_server/ruleChange";
import { bodyInForce } from "@/app/_server/ruleEdits";
import type { FigureGroup } from "@/app/_server/ruleFigures/figure";
import { type FigureKind, figuresOf } from "@/app/_server/ruleFigures/figuresOf";
import type { Db } from "@/db/open";
import { versionInForce } from "@/db/queries/rules";
import { DEFAULT_WEATHER_POLICY, policyChanges, type WeatherPolicy } from "@/lib/weather";
import { FigureSheets } from "./FigureSheets";

export interface FiguresTabProps {
  db: Db;
  kind: FigureKind;
  mayEdit: boolean;
  reasonHint?: string;
  /** Only these groups; all when left out. */
  only?: (group: FigureGroup) => boolean;
}

/** The figures of one kind, as sheets. */
export function FiguresTab({ db, kind, mayEdit, reasonHint, only }: FiguresTabProps) {
  const body = bodyInForce(db, kind);
  const groups = figuresOf(kind, body);
  return (
    <FigureSheets
      kind={kind satisfies WantedChange["kind"]}
      basedOn={versionInForce(db, kind)}
      effectFirst={EFFECT_FIRST.includes(kind)}
      mayEdit={mayEdit}
      groups={only ? groups.filter(only) : groups}
      marks={kind === "weather limits" ? weatherMarks(body as WeatherPolicy) : undefined}
      reasonHint={reasonHint}
    />
  );
}

/** Which limits are stricter and which looser than delivered. */
function weatherMarks(policy: WeatherPolicy): Record<string, "stricter" | "looser"> {
  return Object.fromEntries(
    policyChanges(DEFAULT_WEATHER_POLICY, policy).map((c) => [
      c.workClass === "all" ? c.field : `limits.${c.workClass}.${c.field}`,
      c.isLooser ? "looser" : "stricter",
    ]),
  );
}
