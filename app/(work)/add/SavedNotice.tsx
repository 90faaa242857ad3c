import Link from "next/link";
import { serverWords } from "@/app/_server/language";
import type { Words } from "@/app/_ui/language/words";
import { Notice } from "@/app/_ui/Notice";
import { hopPath, sitePath } from "@/app/(work)/hops/hopStates";
import { database } from "@/db/open";
import { loadPartHops, loadSite } from "@/db/queries/design";
import { hopCodesAtSite } from "@/db/queries/siteViews";
import { type Missing, missingForPlan } from "@/lib/programme";

/** What the address says of what was just saved. */
export type Saved = "new" | "changed" | "same";

export const savedOf = (asked: string | undefined): Saved | undefined =>
  asked === "new" || asked === "changed" || asked === "same" ? asked : undefined;

/** That a site was saved, and what follows. */
export async function SavedSite({ code, saved }: { code: string; saved: Saved }) {
  const { t } = await serverWords();
  const hops = hopCodesAtSite(database(), code);
  return (
    <Notice kind="good" announce title={await titleOf(saved, "site", code)}>
      {saved === "same" ? null : hops.length === 0 ? (
        <p>
          {t("No hop has an end here yet, so nothing is planned here.")}{" "}
          <Link href={`/add/hop?near=${encodeURIComponent(code)}`}>{t("Add a hop from here")}</Link>
        </p>
      ) : (
        <p>
          {t("{{count}} hops end here: kits and hours are worked out anew, and the next plan knows of it.", {
            count: hops.length,
          })}{" "}
          <Link href="/plan/solve">{t("Solve anew")}</Link>
        </p>
      )}
    </Notice>
  );
}

interface SavedHopProps {
  code: string;
  saved: Saved;
  /** Failed design checks, which stand on the page below. */
  failCount: number;
}

/** That a hop was saved, and what its data still lack for it to be planned. */
export async function SavedHop({ code, saved, failCount }: SavedHopProps) {
  const words = await serverWords();
  const { t } = words;
  const db = database();
  const [hop] = loadPartHops(db, [code]);
  const missing = hop ? missingForPlan(hop, (siteCode) => loadSite(db, siteCode)?.position) : [];
  const keepsOut = missing.filter((m) => m.kind !== "antenna" && m.kind !== "radio");
  return (
    <Notice
      kind={missing.length + failCount > 0 ? "warn" : "good"}
      announce
      title={await titleOf(saved, "hop", code)}
    >
      {failCount > 0 ? (
        <p>
          {t("{{count}} design checks fail, listed below: no plan places the hop until its data are right.", {
            count: failCount,
          })}{" "}
          <Link href={`${hopPath(code)}/change`}>{t("Change hop {{code}}", { code })}</Link>
        </p>
      ) : null}
      {keepsOut.length > 0 ? (
        <p>{t("No plan places the hop until this is there:")}</p>
      ) : failCount === 0 ? (
        <p>
          {t("The plan in force stays as it is; the next plan takes the hop in as it is now.")}{" "}
          <Link href="/plan/solve">{t("Solve anew")}</Link>
        </p>
      ) : null}
      {missing.length > 0 ? (
        <ul>
          {missing.map((m) => (
            <li key={JSON.stringify(m)}>
              {missingText(m, words)}{" "}
              {m.kind === "gate" ? null : m.kind === "coordinate" ? (
                <Link href={`${sitePath(m.siteCode)}/change`}>
                  {t("Change site {{code}}", { code: m.siteCode })}
                </Link>
              ) : (
                <Link href={`${hopPath(code)}/change`}>{t("Change hop {{code}}", { code })}</Link>
              )}
            </li>
          ))}
        </ul>
      ) : null}
    </Notice>
  );
}

async function titleOf(saved: Saved, kind: "site" | "hop", code: string): Promise<string> {
  const { t } = await serverWords();
  if (saved === "same") return t("Nothing was different, so nothing was changed");
  if (kind === "site")
    return saved === "new" ? t("Site {{code}} added", { code }) : t("Site {{code}} changed", { code });
  return saved === "new" ? t("Hop {{code}} added", { code }) : t("Hop {{code}} changed", { code });
}

function missingText(m: Missing, { t }: Words): string {
  switch (m.kind) {
    case "site":
      return t("{{end}}: it has no site.", { end: t(`${m.side} end`) });
    case "coordinate":
      return t("Site {{code}} has no coordinate.", { code: m.siteCode });
    case "antenna":
      return t("{{end}}: no antenna, so that kit and hours lack it.", { end: t(`${m.side} end`) });
    case "radio":
      return t("{{end}}: no radio, so that kit and hours lack it.", { end: t(`${m.side} end`) });
    case "gate":
      return t("Gate {{gate}} is open and has no date; give it one under Gates below.", {
        gate: t(m.gate.kind),
      });
  }
}
