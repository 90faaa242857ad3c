/** What an entry of the log is about, in the reader's language: the kind of thing is said, its code stays. */
import type { ReactNode } from "react";
import { keptText } from "@/app/_ui/language/keptText";
import { visitName } from "@/app/_ui/language/visitName";
import type { Words } from "@/app/_ui/language/words";
import { parseVisitId } from "@/lib/programme";

/** As `addLogEntry` is given them. Keys of the catalogue. */
export const LOG_SUBJECTS: readonly string[] = [
  ...["hop {{code}}", "site {{code}}", "visit {{code}}", "item {{code}}", "run {{code}}", "drum {{code}}"],
  ...[
    "order {{code}}",
    "fault {{code}}",
    "count {{code}}",
    "plan {{code}}",
    "serial {{code}}",
    "crew {{code}}",
  ],
  ...["role {{code}}", "interface key {{code}}", "member {{code}}", "orders", "items", "map"],
  // A kind of rules that has no tab of its own.
  "hour calibration",
];

const KIT = "kit ";

export function logSubject(subject: string, accounts: ReadonlyMap<string, string>, words: Words): ReactNode {
  const { t } = words;
  const [kind, rest] = subject.includes(":") ? subject.split(/:(.*)/s) : [];
  if (kind === "account") return accounts.get(rest!) ?? subject;
  if (kind === "member") return keptText(`member ${rest}`, LOG_SUBJECTS, words);
  if (kind === "rules") return t("rules: {{kind}}", { kind: t(rest!) });
  const visitId = subject.startsWith(KIT) ? subject.slice(KIT.length) : subject;
  if (!parseVisitId(visitId)) return keptText(subject, LOG_SUBJECTS, words);
  const visit = visitName(visitId, t);
  return visitId === subject ? visit : t("kit {{visit}}", { visit });
}
