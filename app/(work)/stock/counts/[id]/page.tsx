import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { homeToday, homeZone } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { requireRoleInRegions } from "@/app/_server/session";
import { formatInstant } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import { PageHead } from "@/app/_ui/PageHead";
import { database } from "@/db/open";
import { loadCatalogue } from "@/db/queries/catalogue";
import { countUsedSince } from "@/db/queries/countApproval";
import {
  type CountRow,
  hasCounted,
  loadBlindLines,
  loadCounts,
  loadDifferences,
} from "@/db/queries/countViews";
import { loadLots } from "@/db/queries/shelves";
import { takesSerials } from "@/lib/stock";
import { STOCK_ROLES } from "../../words";
import { CountStateMark } from "../CountStateMark";
import { CountSteps } from "./CountSteps";
import { DifferenceList } from "./DifferenceList";
import { FoundForm } from "./FoundForm";
import { TallyList } from "./TallyList";

interface CountPageProps {
  params: Promise<{ id: string }>;
}

export async function generateMetadata({ params }: CountPageProps): Promise<Metadata> {
  const { t } = await serverWords();
  return { title: t("Count {{id}}", { id: (await params).id }) };
}

/** One count: blind as long as it is counted, then what differs and who may approve it. */
export default async function CountPage({ params }: CountPageProps) {
  const visitor = await requireRoleInRegions(...STOCK_ROLES);
  const words = await serverWords();
  const { t } = words;
  const id = Number((await params).id);
  const db = database();
  const session = loadCounts(db).find((c) => c.id === id);
  if (!session) notFound();
  const isCounting = session.state === "counting";
  const mayCount = visitor.role === "logistics" || visitor.role === "administrator";
  const mayApprove = visitor.role === "manager" || visitor.role === "administrator";
  const countedSelf = hasCounted(db, id, visitor.userId);
  const lines = loadBlindLines(db, id);
  return (
    <>
      <PageHead
        crumbs={[
          { label: t("Stock"), href: "/stock" },
          { label: t("Counts"), href: "/stock/counts" },
        ]}
        title={t("Count {{id}} of {{placeName}}", { id: String(id), placeName: session.placeName })}
        marks={<CountStateMark state={session.state} />}
        lead={
          isCounting
            ? t(
                "Count what lies there and enter it; 0 for what is not there. What the ledger says is shown when the count is handed in.",
              )
            : [
                endedWords(session, homeZone(db), words),
                session.note || t("What was counted against the ledger of that moment."),
              ]
                .filter(Boolean)
                .join(" ")
        }
      />
      <div className="grid grid-cols-1 gap-4">
        <CountSteps
          id={id}
          steps={{
            handIn: isCounting && mayCount,
            approve: session.state === "counted" && mayApprove && !countedSelf,
            recount: session.state === "counted",
            cancel: isCounting || session.state === "counted",
          }}
          waits={
            session.state !== "counted"
              ? undefined
              : !mayApprove
                ? t("Waits for a rollout manager or administrator who did not count.")
                : countedSelf
                  ? t("You counted a part of it: somebody else approves it.")
                  : undefined
          }
          differing={session.differing ?? 0}
          open={lines.filter((l) => l.countedC === null).length}
          used={countUsedSince(db, id)}
        />
        {isCounting ? (
          <>
            <TallyList id={id} lines={lines} readOnly={!mayCount} />
            {mayCount ? (
              <FoundForm
                id={id}
                items={loadCatalogue(db)
                  .filter((i) => i.category !== "IF cable")
                  .map((i) => ({
                    code: i.code,
                    name: i.name,
                    expires: i.shelfLifeDays !== undefined,
                    takesSerials: takesSerials(i.category),
                  }))}
                lots={loadLots(db).flatMap((l) =>
                  l.expiresOn === null
                    ? []
                    : [{ code: l.code, itemCode: l.itemCode, expiresOn: l.expiresOn }],
                )}
                today={homeToday(db)}
              />
            ) : null}
          </>
        ) : session.state === "cancelled" ? null : (
          <DifferenceList rows={loadDifferences(db, id)} />
        )}
      </div>
    </>
  );
}

/** Who ended the count and when; nothing as long as it is open. */
function endedWords(
  { state, endedAt, endedBy }: CountRow,
  zone: Parameters<typeof formatInstant>[1],
  { t, locale }: Words,
): string {
  if (endedAt === null) return "";
  const by = { name: endedBy ?? "", when: formatInstant(endedAt, zone, locale) };
  return state === "approved"
    ? t("Approved by {{name}}, {{when}}.", by)
    : t("Cancelled by {{name}}, {{when}}.", by);
}
