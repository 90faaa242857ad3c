/** A session in words: the same for its owner and for an administrator. */
import { formatInstant } from "@/app/_ui/format";
import type { OpenSession } from "@/db/queries/sessions";

export interface SessionRow {
  id: string;
  device: string;
  /** What the browser calls itself, whole. */
  browser: string;
  address: string;
  startedAt: string;
  renewedAt: string;
  isThis: boolean;
}

export function sessionRow(session: OpenSession, zone: string, ownId?: string): SessionRow {
  const browser = session.browser ?? "";
  return {
    id: session.id,
    device:
      browser === ""
        ? "Unknown device"
        : /mobi|android|tablet/i.test(browser)
          ? "Phone or tablet"
          : "Computer",
    browser,
    address: session.address || "unknown",
    startedAt: formatInstant(session.startedAt, zone),
    renewedAt: formatInstant(session.renewedAt, zone),
    isThis: session.id === ownId,
  };
}
