/**
 * A crew's visits for calendar programs, which bring no session: who knows the address may read it, so it is long,
 * random, kept as a hash only, and gone when it is revoked. Nothing else is served under it.
 */
import { clientAddress, noteFailure, rests } from "@/app/_server/attempts";
import { today } from "@/app/_server/clock";
import { calendarOf, crewOfSecret } from "@/app/_server/crewCalendar";
import { fileAnswer } from "@/app/_server/fileAnswer";
import { wordsIn } from "@/app/_server/language";
import { languageOf } from "@/app/_ui/language/languages";
import { database } from "@/db/open";
import { loadCrewFacts } from "@/db/queries/week";

const KIND = "calendar by address";

const refusal = (status: number, text: string) =>
  new Response(text, { status, headers: { "Content-Type": "text/plain", "Cache-Control": "no-store" } });

export async function GET(request: Request, next: { params: Promise<{ file: string }> }): Promise<Response> {
  const db = database();
  const from = clientAddress(request.headers);
  if (rests(db, KIND, from))
    return refusal(429, "Too many wrong addresses. Wait 15 minutes, then try again.");
  const { file } = await next.params;
  const secret = /^([A-Za-z0-9_-]{20,100})\.ics$/.exec(file)?.[1];
  const crewCode = secret && crewOfSecret(db, secret);
  if (!crewCode) {
    noteFailure(db, KIND, from);
    return refusal(404, "There is no calendar at this address; it may have been revoked.");
  }
  const zone = loadCrewFacts(db, crewCode)?.zone ?? "UTC";
  // A calendar program sends no cookies: the address says the language.
  const language = languageOf(new URL(request.url).searchParams.get("language") ?? undefined, null);
  const text = calendarOf(db, crewCode, today(zone, db), wordsIn(language));
  return fileAnswer(`crew-${crewCode}`, "ics", new TextEncoder().encode(text));
}
