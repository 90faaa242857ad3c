/** A session in words: the same for its owner and for an administrator. */
import { formatInstant } from "@/app/_ui/format";
import type { OpenSession } from "@/db/queries/sessions";

export interface SessionRow {
  id: string;
  device: string;
  /** What the browser calls itself, whole. */
  browser: string;
  /** Empty when nothing told it. */
  address: string;
  startedAt: string;
  renewedAt: string;
  isThis: boolean;
}

/** What a browser says of its device; said in the reader's language by the table. */
export const DEVICES = ["Unknown device", "Phone or tablet", "Computer"] as const;

export function sessionRow(session: OpenSession, zone: string, ownId?: string, locale?: string): SessionRow {
  const browser = session.browser ?? "";
  return {
    id: session.id,
    device: browser === "" ? DEVICES[0] : /mobi|android|tablet/i.test(browser) ? DEVICES[1] : DEVICES[2],
    browser,
    address: session.address ?? "",
    startedAt: formatInstant(session.startedAt, zone, locale),
    renewedAt: formatInstant(session.renewedAt, zone, locale),
    isThis: session.id === ownId,
  };
}
