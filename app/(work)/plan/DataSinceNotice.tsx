import Link from "next/link";
import { homeZone } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { formatInstant } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import { Notice } from "@/app/_ui/Notice";
import type { Db } from "@/db/open";
import type { DataSince } from "@/db/queries/dataSince";

export interface DataSinceNoticeProps {
  db: Db;
  changes: readonly DataSince[];
  /** The plan in force that a draft was made from, when another one is in force by now. */
  madeFrom?: { planId: number | null; inForceId: number | null };
  maySolve: boolean;
}

/** That a plan is out of date, by what and since when, and the way to a new one. */
export async function DataSinceNotice({ db, changes, madeFrom, maySolve }: DataSinceNoticeProps) {
  const words = await serverWords();
  const { t, locale } = words;
  if (changes.length === 0 && !madeFrom) return null;
  const zone = homeZone(db);
  return (
    <Notice
      kind="warn"
      title={madeFrom ? madeFromText(madeFrom, words) : t("Data changed since this plan was made")}
      action={maySolve ? <Link href="/plan/solve">{t("Solve anew")}</Link> : undefined}
    >
      {madeFrom ? (
        <p>
          {t(
            "It knows nothing of what the plan in force changed: compare the two before this one is put in force, or solve anew.",
          )}
        </p>
      ) : null}
      {changes.length > 0 ? (
        <ul>
          {changes.map((c) => (
            <li key={c.kind}>
              {kindText(c, words)},{" "}
              {c.by
                ? t("last on {{when}} by {{name}}", {
                    when: formatInstant(c.lastAt, zone, locale),
                    name: c.by,
                  })
                : t("issued on {{when}}", { when: formatInstant(c.lastAt, zone, locale) })}
            </li>
          ))}
        </ul>
      ) : null}
    </Notice>
  );
}

function madeFromText(
  { planId, inForceId }: NonNullable<DataSinceNoticeProps["madeFrom"]>,
  { t }: Words,
): string {
  const now =
    inForceId === null
      ? t("none is in force now")
      : t("plan {{plan}} is in force now", { plan: String(inForceId) });
  return planId === null
    ? t("This draft was made when no plan was in force; {{now}}", { now })
    : t("This draft was made from plan {{plan}}; {{now}}", { plan: String(planId), now });
}

/** What a run does not know, as "2 changes of gates; a newer forecast": what was reported done is news to it as well. */
export const changesText = (changes: readonly DataSince[], words: Words): string =>
  changes
    .map((c) =>
      c.kind === "reports" ? words.t("{{count}} visits reported", { count: c.count }) : kindText(c, words),
    )
    .join("; ");

function kindText({ kind, count }: DataSince, { t }: Words): string {
  switch (kind) {
    case "gates":
      return t("{{count}} changes of gates", { count });
    case "crews":
      return t("{{count}} changes of certificates and leave", { count });
    case "acceptance":
      return t("{{count}} changes of readings or revisits", { count });
    case "reports":
      return t("{{count}} visits reported on hold or part done", { count });
    case "orders":
      // A receipt has a row for each line, a transfer two: their number says nothing to a reader.
      return t("changes of orders and stock");
    case "rules":
      return t("{{count}} changes of rules", { count });
    case "brought in":
      return t("files brought in, {{count}} times", { count });
    case "by hand":
      return t("{{count}} sites and hops entered or changed by hand", { count });
    case "forecast":
      return t("a newer forecast");
  }
}
