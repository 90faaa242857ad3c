import Link from "next/link";
import { serverWords } from "@/app/_server/language";
import { formatClock, formatDate, formatDuration } from "@/app/_ui/format";
import { StateMark, Tag } from "@/app/_ui/StateMark";
import { visitWords } from "@/app/_ui/visitWords";
import { kitStateWords } from "@/app/(work)/kits/kitStateWords";
import { kitPath } from "@/app/(work)/stock/words";
import type { WeekVisit } from "@/db/queries/week";
import { onSiteFromMin, parseVisitId } from "@/lib/programme";

/** One visit as a card that a thumb can hit: when, where, what, kit. */
export async function VisitCard({ visit: v, isToday = false }: { visit: WeekVisit; isToday?: boolean }) {
  const { t, locale } = await serverWords();
  const isLong = v.startOn !== v.endOn;
  const part = parseVisitId(v.visitId)?.part ?? 1;
  return (
    <article className="border-line bg-raised relative grid gap-1 rounded border p-3">
      <p className="text-quiet">
        {formatDate(v.startOn, "weekday", locale)},{" "}
        {v.setupMin === null
          ? formatClock(v.startMin)
          : t("on site about {{arrive}}, work {{start}}", {
              arrive: formatClock(onSiteFromMin(v.startMin, v.setupMin)),
              start: formatClock(v.startMin),
            })}
        {isLong
          ? ` ${t("to")} ${formatDate(v.endOn, "weekday", locale)}, ${formatClock(v.endMin)}`
          : ` ${t("to")} ${formatClock(v.endMin)}`}
      </p>
      <h3>
        <Link href={`/week/visit/${v.visitId}`} className="after:absolute after:inset-0">
          {v.siteCode} {v.siteName}
        </Link>
      </h3>
      <p>
        {t(visitWords(v.kind, { acceptance: v.acceptance }))}
        {part > 1 ? t(", visit {{part}}", { part }) : ""}: {v.hopCode}, {t(`${v.side} end`)} ·{" "}
        {t("{{time}} with set-up", { time: formatDuration(v.durationMin, locale) })}
      </p>
      <p className="flex flex-wrap gap-2">
        {v.isWithdrawn ? (
          <StateMark state="none">{t("Withdrawn: not needed any more, nobody goes")}</StateMark>
        ) : null}
        {v.report?.outcome === "done" ? (
          <StateMark state={v.report.hasFailed ? "warn" : "done"}>
            {v.report.hasFailed ? t("Reported done, a reading failed") : t("Reported done")}
          </StateMark>
        ) : null}
        {v.report?.outcome === "hold" && !v.isWithdrawn ? (
          <StateMark state={v.hold ? "hold" : "planned"} isFreeText>
            {v.hold
              ? t("On hold: {{reason}}", { reason: v.hold.reason })
              : t("Planned again after a hold: {{reason}}", { reason: v.report.holdReason ?? "" })}
          </StateMark>
        ) : null}
        {v.report?.outcome === "part done" && !v.isWithdrawn ? (
          <StateMark state="under way">
            {t("Part done")}
            {v.report.leftMin !== null
              ? `, ${t("{{time}} left", { time: formatDuration(v.report.leftMin, locale) })}`
              : ""}
          </StateMark>
        ) : null}
        {v.kit && v.kit.state !== "issued" && v.report?.outcome === "done" ? (
          // The card's own link lies over everything else of it.
          <Link href={kitPath(v.visitId)} className="relative">
            {t("No kit issued by the books")}
          </Link>
        ) : v.kit && (!v.isWithdrawn || v.kit.state === "issued") ? (
          <KitMark kit={v.isWithdrawn ? { ...v.kit, shortLines: 0 } : v.kit} isToday={isToday} />
        ) : (
          <Tag>
            {v.kind === "install" && v.report?.outcome === "done"
              ? t("No kit issued by the books")
              : t("No kit needed")}
          </Tag>
        )}
      </p>
    </article>
  );
}

async function KitMark({ kit, isToday }: { kit: NonNullable<WeekVisit["kit"]>; isToday: boolean }) {
  const { t, locale } = await serverWords();
  if (kit.state === "issued" && kit.shortLines > 0)
    return (
      <StateMark state="short">{t("Issued, short by {{count}} lines", { count: kit.shortLines })}</StateMark>
    );
  if (kit.state === "issued") return <StateMark state="done">{t("Kit issued")}</StateMark>;
  if (kit.shortLines > 0)
    return (
      <StateMark state="short">{t("Kit short by {{count}} lines", { count: kit.shortLines })}</StateMark>
    );
  if (kit.state === "picked") return <StateMark state="under way">{kitStateWords(kit, t)}</StateMark>;
  if (isToday) return <StateMark state="warn">{t("Kit not issued yet")}</StateMark>;
  return (
    <StateMark state="dated">
      {t("Kit on {{day}}", { day: formatDate(kit.pickOn, "weekday", locale) })}
    </StateMark>
  );
}
