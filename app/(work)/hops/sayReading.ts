import type { Words } from "@/app/_ui/language/words";
import type { AskedReading } from "@/lib/acceptance";

/** "near end, receive level R1", in the reader's language. */
export function sayReading({ side, kind, oduLabel }: AskedReading, { t }: Words): string {
  const what = oduLabel ? `${t(kind)} ${oduLabel}` : t(kind);
  return side ? `${t(`${side} end`)}, ${what}` : what;
}
