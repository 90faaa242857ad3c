import { OWN_LANGUAGE } from "@/app/_ui/language/languages";
import type { Words } from "@/app/_ui/language/words";
import { LEDGER_BEGINNERS, LEDGER_REASONS } from "@/db/queries/ledgerReasons";
import { readBack } from "@/lib/phrase";
import { SCRAP_REASONS } from "@/lib/stock";

/** Rows' own reasons, and the words that stand in them. */
const KNOWN: readonly string[] = [...Object.values(LEDGER_REASONS), ...SCRAP_REASONS];

/** The reason of a row in the reader's language, where the ledger wrote it; what a person wrote stays as it is. */
export function ledgerReasonWords(reason: string, { language, say }: Words): string | undefined {
  if (language === OWN_LANGUAGE) return reason;
  const read = readBack(reason, KNOWN);
  return KNOWN.includes(read.text) ? say(read) : undefined;
}

/** Who booked a row: a person's name, or what the demonstration begins with. */
export const bookedByWords = (name: string, { t }: Words): string =>
  (LEDGER_BEGINNERS as readonly string[]).includes(name) ? t(name) : name;
