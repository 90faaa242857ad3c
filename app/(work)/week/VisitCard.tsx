import Link from "next/link";
import { formatClock, formatDate, formatDuration } from "@/app/_ui/format";
import { StateMark, Tag } from "@/app/_ui/StateMark";
import { visitWords } from "@/app/(work)/hops/visitWords";
import type { WeekVisit } from "@/db/queries/week";
import { parseVisitId } from "@/lib/programme";

/** One visit as a card that a thumb can hit: when, where, what, kit. */
export function VisitCard({ visit: v, isToday = false }: { visit: WeekVisit; isToday?: boolean }) {
  const isLong = v.startOn !== v.endOn;
  const part = parseVisitId(v.visitId)?.part ?? 1;
  return (
    <article className="border-line bg-raised relative grid gap-1 rounded border p-3">
      <p className="text-quiet">
        {formatDate(v.startOn, "weekday")}, {formatClock(v.startMin)}
        {isLong
          ? ` to ${formatDate(v.endOn, "weekday")}, ${formatClock(v.endMin)}`
          : ` to ${formatClock(v.endMin)}`}
      </p>
      <h3>
        <Link href={`/week/visit/${v.visitId}`} className="after:absolute after:inset-0">
          {v.siteCode} {v.siteName}
        </Link>
      </h3>
      <p>
        {visitWords(v.kind, { acceptance: v.acceptance })}
        {part > 1 ? `, visit ${part},` : ""} of {v.hopCode}, {v.side} end · {formatDuration(v.durationMin)}{" "}
        with set-up
      </p>
      <p className="flex flex-wrap gap-2">
        {v.report?.outcome === "hold" ? <StateMark state="hold">{v.report.holdReason}</StateMark> : null}
        {v.report?.outcome === "part done" ? (
          <StateMark state="under way">
            Part done{v.report.leftMin !== null ? `, ${formatDuration(v.report.leftMin)} left` : ""}
          </StateMark>
        ) : null}
        {v.kit ? <KitMark kit={v.kit} isToday={isToday} /> : <Tag>No kit needed</Tag>}
      </p>
    </article>
  );
}

function KitMark({ kit, isToday }: { kit: NonNullable<WeekVisit["kit"]>; isToday: boolean }) {
  if (kit.state === "issued") return <StateMark state="done">Kit issued</StateMark>;
  if (kit.shortLines > 0) return <StateMark state="short">Kit short by {kit.shortLines} lines</StateMark>;
  if (kit.state === "picked") return <StateMark state="met">Kit picked</StateMark>;
  if (isToday) return <StateMark state="warn">Kit not issued yet</StateMark>;
  return <StateMark state="dated">Kit on {formatDate(kit.pickOn, "weekday")}</StateMark>;
}
