/** What a kit is called wherever one is listed, opened or printed. */
import type { Words } from "@/app/_ui/language/words";
import { parseVisitId, visitWords } from "@/lib/visitIds";

/** What its visit is for, as a crew says it; '' for the install, for which most kits are. */
export function kitFor(kit: { visitId: string; remedy: string | null }, t: Words["t"]): string {
  const named = parseVisitId(kit.visitId);
  if (!named || named.kind === "install") return "";
  return t(visitWords(named.kind, { remedy: kit.remedy ?? undefined }));
}

/** "VH016 near end", "VH016 near end, Revisit (earthing)": two kits of one end are told apart. */
export function kitName(
  kit: { visitId: string; hopCode: string; side: string; remedy: string | null },
  t: Words["t"],
): string {
  const end = `${kit.hopCode} ${t(`${kit.side} end`)}`;
  const what = kitFor(kit, t);
  return what ? `${end}, ${what}` : end;
}
