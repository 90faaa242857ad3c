/**
 * Comes before every page. Hands it its own address, so that signing in can lead back to it (app/_server/session.ts),
 * and a nonce by which its scripts are known to the browser.
 */
import { type NextRequest, NextResponse } from "next/server";
import { contentPolicy } from "@/app/_server/contentPolicy";
import { database } from "@/db/open";
import { readSetting } from "@/db/queries/settings";
import { tileOrigin } from "@/lib/map";

const YEAR_S = 365 * 86_400;

/** Whether the person's browser came by https, be it to a proxy in front of this server. */
function cameByHttps(request: NextRequest): boolean {
  const came = request.headers.get("x-forwarded-proto")?.split(",")[0]?.trim();
  return came === "https" || Boolean(process.env.BOTHENDS_URL?.startsWith("https://"));
}

/** Read for each page: a page that was open before must not keep an administrator's change from the next one. */
function pictureHost(): string | undefined {
  const tiles = readSetting(database(), "mapTiles");
  return tiles && tileOrigin(tiles.template);
}

export function proxy(request: NextRequest): NextResponse {
  const nonce = Buffer.from(crypto.getRandomValues(new Uint8Array(16))).toString("base64");
  const policy = contentPolicy(nonce, process.env.NODE_ENV === "development", pictureHost());
  const headers = new Headers(request.headers);
  headers.set("x-bothends-path", request.nextUrl.pathname + request.nextUrl.search);
  headers.set("x-nonce", nonce);
  headers.set("content-security-policy", policy); // the framework takes the nonce for its own scripts from here
  const response = NextResponse.next({ request: { headers } });
  response.headers.set("Content-Security-Policy", policy);
  // Never over plain http, where an office without a certificate would lock itself out.
  if (cameByHttps(request)) response.headers.set("Strict-Transport-Security", `max-age=${YEAR_S}`);
  return response;
}

// Not before /api: a body that passes here is held in memory and cut (app/api/imports).
export const config = { matcher: ["/((?!api/|_next/static/).*)"] };
