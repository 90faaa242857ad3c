/** Pictures of the ground from a server of tiles, for companies that have one they may use. Off unless set. */
import { ok, type Problem, type Result, refused } from "@/lib/result";
import { type MapSize, type MapView, worldPx } from "./view";

const TILE_ZOOM_MOST = 19;

/** An address with {z}, {x} and {y} in its path, on one host named in full. */
export function parseTileTemplate(text: string): Result<string> {
  const template = text.trim();
  const wrong = (
    rule: string,
    message: string,
    remedy: string,
  ): { ok: false; problems: readonly Problem[] } =>
    refused({ path: "tileAddress", rule, value: text, message, remedy });
  const bare = template.replaceAll("{z}", "0").replaceAll("{x}", "0").replaceAll("{y}", "0");
  if (!URL.canParse(bare))
    return wrong("tile-address", `"${template}" is no web address.`, "Give it in full, from https:// on.");
  const url = new URL(bare);
  if (url.protocol !== "https:")
    return wrong(
      "tile-https",
      `The address begins with ${url.protocol}//: browsers do not load pictures from there into this page.`,
      "Give an address that begins with https://.",
    );
  if (url.username || url.password)
    return wrong(
      "tile-password",
      "The address holds a name or password, which every browser would send.",
      "Leave it out; use a key in the path or after the question mark if the server asks for one.",
    );
  const [, afterHost = ""] = template.match(/^https:\/\/[^/]+(.*)$/) ?? [];
  const missing = ["{z}", "{x}", "{y}"].filter((part) => !afterHost.includes(part));
  if (missing.length > 0)
    return wrong(
      "tile-parts",
      `The address lacks ${missing.join(", ")} after its host.`,
      "Write it as https://tiles.example/{z}/{x}/{y}.png.",
    );
  const unknown = template.replace(/\{[zxy]\}/g, "").match(/\{[^}]*\}/)?.[0];
  if (unknown)
    return wrong(
      "tile-parts",
      `${unknown} in the address is not known here.`,
      "Use {z}, {x} and {y} only, and name one host in full: the page allows that host alone.",
    );
  return ok(template);
}

/** Scheme, host and port, as the content policy names them. */
export function tileOrigin(template: string): string {
  return new URL(template.replace(/\{[zxy]\}/g, "0")).origin;
}

export interface Tile {
  address: string;
  leftPx: number;
  topPx: number;
  sidePx: number;
}

/** The tiles that cover a view, from the middle outwards. */
export function tilesIn(template: string, view: MapView, size: MapSize): Tile[] {
  const z = Math.min(TILE_ZOOM_MOST, Math.max(0, Math.round(view.zoom)));
  const count = 2 ** z;
  const sidePx = worldPx(view.zoom) / count;
  const left = view.x * count - size.widthPx / 2 / sidePx;
  const top = view.y * count - size.heightPx / 2 / sidePx;
  const tiles: (Tile & { far: number })[] = [];
  for (let x = Math.floor(left); x < left + size.widthPx / sidePx; x++) {
    for (let y = Math.floor(top); y < top + size.heightPx / sidePx; y++) {
      if (x < 0 || y < 0 || x >= count || y >= count) continue;
      tiles.push({
        address: template
          .replaceAll("{z}", String(z))
          .replaceAll("{x}", String(x))
          .replaceAll("{y}", String(y)),
        leftPx: (x - left) * sidePx,
        topPx: (y - top) * sidePx,
        sidePx,
        far: Math.hypot(x + 0.5 - view.x * count, y + 0.5 - view.y * count),
      });
    }
  }
  return tiles.sort((a, b) => a.far - b.far).map(({ far: _, ...tile }) => tile);
}

/** Column and row of the tile that holds a place (the web's numbering, from the north-west). */
export function tileAt(world: { x: number; y: number }, z: number): { x: number; y: number } {
  const count = 2 ** z;
  return { x: Math.floor(world.x * count), y: Math.floor(world.y * count) };
}
