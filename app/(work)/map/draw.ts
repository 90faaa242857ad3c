/** One frame of the map. Everything comes in; nothing is kept but paths of signs. */
import { LINES, PLAIN_LINE } from "@/app/_ui/drawings/lineLooks";
import { scaleBarKm } from "@/app/_ui/drawings/projection";
import { formatNumber } from "@/app/_ui/format";
import { type GlyphName, glyphLines } from "@/app/_ui/Glyph";
import { STATES, type StateName, type Tone } from "@/app/_ui/states";
import { toWorld, type WorldPosition } from "@/lib/geo";
import { type MapMark, type MapSize, type MapView, pxPerKm, type Tile, worldPx } from "@/lib/map";
import type { CrewDay } from "./crewDay";
import { type ColourName, type Look, resolved } from "./look";
import { type Scene, type SceneOutline, worstState } from "./scene";

export interface Picked {
  kind: "hop" | "site";
  code: string;
}

export interface Frame {
  view: MapView;
  size: MapSize;
  look: Look;
  outlines: readonly SceneOutline[];
  tiles: readonly (Tile & { image: HTMLImageElement })[];
  scene: Scene;
  picked?: Picked;
  day?: CrewDay;
}

export const MARK_PX = 9;
/** Codes stand beside sites while each has about so much room, px². */
const LABEL_AREA = 11_000;

const TONE_COLOUR: Readonly<Record<Tone, ColourName>> = {
  good: "moss",
  warn: "ochre",
  problem: "brick",
  hold: "plum",
  info: "steel",
  active: "petrol",
  plain: "quiet",
};

const signs = new Map<GlyphName, Path2D>();
function sign(name: GlyphName): Path2D {
  const known = signs.get(name);
  if (known) return known;
  const made = new Path2D(glyphLines(name));
  signs.set(name, made);
  return made;
}

export function toPx(
  { view, size }: Pick<Frame, "view" | "size">,
  at: WorldPosition,
): { x: number; y: number } {
  const px = worldPx(view.zoom);
  return {
    x: (at.x - view.x) * px + size.widthPx / 2,
    y: (at.y - view.y) * px + size.heightPx / 2,
  };
}

export function drawMap(ctx: CanvasRenderingContext2D, frame: Frame): void {
  const { size, look } = frame;
  ctx.lineJoin = "round";
  ctx.lineCap = "butt";
  ctx.fillStyle = frame.outlines.length > 0 ? look.colours["steel-wash"] : look.colours.surface;
  ctx.fillRect(0, 0, size.widthPx, size.heightPx);
  drawOutlines(ctx, frame, true);
  for (const tile of frame.tiles) {
    if (tile.image.complete && tile.image.naturalWidth > 0)
      ctx.drawImage(tile.image, tile.leftPx, tile.topPx, tile.sidePx, tile.sidePx);
  }
  drawOutlines(ctx, frame, false);
  ctx.globalAlpha = frame.day && frame.day.stops.length > 0 ? 0.35 : 1;
  drawHops(ctx, frame);
  drawSites(ctx, frame);
  ctx.globalAlpha = 1;
  if (frame.day) drawDay(ctx, frame, frame.day);
  drawPicked(ctx, frame);
  drawScale(ctx, frame);
}

/** @param areas the ground under pictures and hops, or what is drawn over them: lines and names */
function drawOutlines(ctx: CanvasRenderingContext2D, frame: Frame, areas: boolean): void {
  const { view, size, look } = frame;
  const c = look.colours;
  const px = worldPx(view.zoom);
  const halfW = size.widthPx / 2 / px;
  const halfH = size.heightPx / 2 / px;
  for (const o of frame.outlines) {
    const { kind, isArea, name } = o.outline;
    const isOut =
      o.east < view.x - halfW ||
      o.west > view.x + halfW ||
      o.south < view.y - halfH ||
      o.north > view.y + halfH;
    if (isArea !== areas || isOut) continue;
    if (kind === "place") {
      const at = toPx(frame, { x: o.west, y: o.north });
      text(ctx, look, name.toUpperCase(), at.x, at.y, { centred: true, colour: c.quiet, size: 12 });
      continue;
    }
    ctx.beginPath();
    for (const line of o.lines) {
      for (let i = 0; i < line.length; i += 2) {
        const x = (line[i]! - view.x) * px + size.widthPx / 2;
        const y = (line[i + 1]! - view.y) * px + size.heightPx / 2;
        if (i === 0) ctx.moveTo(x, y);
        else ctx.lineTo(x, y);
      }
      if (isArea) ctx.closePath();
    }
    ctx.setLineDash(kind === "border" ? [2, 4] : []);
    if (isArea) {
      ctx.fillStyle = kind === "water" ? c["steel-wash"] : kind === "built-up" ? c.sunk : c.surface;
      ctx.fill("evenodd");
      ctx.strokeStyle = kind === "land" ? c.edge : c.line;
      ctx.lineWidth = 1;
    } else {
      ctx.strokeStyle = kind === "river" || kind === "water" ? c.steel : kind === "road" ? c.edge : c.quiet;
      ctx.globalAlpha = kind === "river" ? 0.5 : 1;
      ctx.lineWidth = kind === "road" ? 1.5 : 1;
    }
    ctx.stroke();
    ctx.globalAlpha = 1;
    ctx.setLineDash([]);
  }
}

function drawHops(ctx: CanvasRenderingContext2D, frame: Frame): void {
  // One path for each state: a thousand strokes become eight.
  const byState = new Map<StateName, Frame["scene"]["hops"][number][]>();
  for (const hop of frame.scene.hops) {
    const list = byState.get(hop.state);
    if (list) list.push(hop);
    else byState.set(hop.state, [hop]);
  }
  for (const [state, hops] of byState) {
    const line = LINES[state] ?? PLAIN_LINE;
    ctx.beginPath();
    for (const hop of hops) {
      const a = toPx(frame, hop.near);
      const b = toPx(frame, hop.far);
      if (isBeside(a, b, frame.size)) continue;
      ctx.moveTo(a.x, a.y);
      ctx.lineTo(b.x, b.y);
    }
    ctx.strokeStyle = resolved(frame.look, line.colour);
    ctx.lineWidth = line.width;
    ctx.setLineDash(line.dash?.split(" ").map(Number) ?? []);
    ctx.stroke();
  }
  ctx.setLineDash([]);
}

/** Both ends beyond the same edge: the line is not in sight. */
function isBeside(
  a: { x: number; y: number },
  b: { x: number; y: number },
  { widthPx, heightPx }: MapSize,
): boolean {
  return (
    (a.x < 0 && b.x < 0) ||
    (a.y < 0 && b.y < 0) ||
    (a.x > widthPx && b.x > widthPx) ||
    (a.y > heightPx && b.y > heightPx)
  );
}

function drawSites(ctx: CanvasRenderingContext2D, frame: Frame): void {
  const { scene, size, look, view } = frame;
  const inView = scene
    .marksAt(view.zoom)
    .map((mark) => ({ mark, ...toPx(frame, mark) }))
    .filter(({ x, y }) => x > -30 && y > -30 && x < size.widthPx + 30 && y < size.heightPx + 30);
  for (const { mark, x, y } of inView) {
    drawMark(ctx, look, worstState(scene, mark), x, y, mark.members.length);
  }
  if (inView.length * LABEL_AREA <= size.widthPx * size.heightPx) drawCodes(ctx, frame, inView);
}

/** Codes beside sites, as far as each has room: one that would cover a mark or another code is left out. */
function drawCodes(
  ctx: CanvasRenderingContext2D,
  { scene, look }: Frame,
  marks: readonly { mark: MapMark; x: number; y: number }[],
): void {
  const taken = marks.map(({ x, y }) => boxAt(x - MARK_PX, y, 2 * MARK_PX));
  for (const { mark, x, y } of marks) {
    if (mark.members.length > 1) continue;
    const { code } = scene.sites[mark.members[0]!]!.row;
    const width = 8 * code.length;
    const boxes = [boxAt(x + MARK_PX + 4, y, width), boxAt(x - MARK_PX - 4 - width, y, width)];
    const box = boxes.find((b) => !taken.some((t) => isOver(b, t)));
    if (!box) continue;
    taken.push(box);
    text(ctx, look, code, box.left, y, { size: 12, bold: true });
  }
}

interface Box {
  left: number;
  right: number;
  top: number;
  bottom: number;
}

const boxAt = (left: number, y: number, width: number): Box => ({
  left,
  right: left + width,
  top: y - 8,
  bottom: y + 8,
});
const isOver = (a: Box, b: Box): boolean =>
  a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;

/** A site is a ring with its state's sign; a group a larger ring with its count, and the worst sign at its edge. */
function drawMark(
  ctx: CanvasRenderingContext2D,
  look: Look,
  state: StateName,
  x: number,
  y: number,
  count: number,
): void {
  const colour = look.colours[TONE_COLOUR[STATES[state].tone]];
  const radius = count === 1 ? MARK_PX : groupPx(count);
  ctx.beginPath();
  ctx.arc(x, y, radius, 0, 2 * Math.PI);
  ctx.fillStyle = look.colours.raised;
  ctx.fill();
  ctx.lineWidth = count === 1 ? 1.5 : 3;
  ctx.strokeStyle = colour;
  ctx.stroke();
  if (count === 1) {
    drawSign(ctx, state, colour, x, y, 11);
    return;
  }
  text(ctx, look, formatNumber(count), x, y, { centred: true, size: 12, bold: true });
  const edge = radius * Math.SQRT1_2;
  ctx.beginPath();
  ctx.arc(x + edge, y - edge, 7, 0, 2 * Math.PI);
  ctx.fillStyle = look.colours.raised;
  ctx.fill();
  drawSign(ctx, state, colour, x + edge, y - edge, 11);
}

export const groupPx = (count: number): number => 13 + 2.2 * Math.log2(count);

function drawSign(
  ctx: CanvasRenderingContext2D,
  state: StateName,
  colour: string,
  x: number,
  y: number,
  sidePx: number,
): void {
  ctx.save();
  ctx.translate(x - sidePx / 2, y - sidePx / 2);
  ctx.scale(sidePx / 16, sidePx / 16);
  ctx.lineWidth = 2;
  ctx.lineCap = "round";
  ctx.strokeStyle = colour;
  ctx.stroke(sign(STATES[state].glyph));
  ctx.restore();
}

/** The crew's way: depot as a square, visits numbered, a night away as a moon. */
function drawDay(ctx: CanvasRenderingContext2D, frame: Frame, day: CrewDay): void {
  const { look } = frame;
  const c = look.colours;
  const points = day.path.map((p) => toPx(frame, toWorld(p)));
  for (const [width, colour] of [[7, c.raised] as const, [3.5, c.ink] as const]) {
    ctx.beginPath();
    for (const p of points) ctx.lineTo(p.x, p.y);
    ctx.lineWidth = width;
    ctx.strokeStyle = colour;
    ctx.stroke();
  }
  for (let i = 1; i < points.length; i++) drawArrow(ctx, points[i - 1]!, points[i]!, c.ink);
  const { depot, nightBefore, nightAfter } = day;
  if (depot.position) {
    const at = toPx(frame, toWorld(depot.position));
    ctx.fillStyle = c.raised;
    ctx.strokeStyle = c.ink;
    ctx.lineWidth = 2.5;
    ctx.beginPath();
    ctx.rect(at.x - 9, at.y - 9, 18, 18);
    ctx.fill();
    ctx.stroke();
    text(ctx, look, depot.name, at.x + 14, at.y, { size: 12, bold: true });
  }
  // Visits at one site stand under one number plate: "1, 2".
  const plates = new Map<string, { at: { x: number; y: number }; words: string[] }>();
  for (const stop of day.stops) {
    if (!stop.position) continue;
    const plate = plates.get(stop.siteCode);
    if (plate) plate.words.push(String(stop.no));
    else plates.set(stop.siteCode, { at: toPx(frame, toWorld(stop.position)), words: [String(stop.no)] });
  }
  for (const [code, { at, words }] of plates) {
    const number = words.join(", ");
    const half = Math.max(12, 4 + number.length * 4.5);
    ctx.beginPath();
    ctx.roundRect(at.x - half, at.y - 12, 2 * half, 24, 12);
    ctx.fillStyle = c.install;
    ctx.fill();
    ctx.lineWidth = 2;
    ctx.strokeStyle = c.raised;
    ctx.stroke();
    text(ctx, look, number, at.x, at.y, {
      centred: true,
      colour: c["on-install"],
      size: 13,
      bold: true,
      bare: true,
    });
    text(ctx, look, code, at.x + half + 5, at.y, { size: 12, bold: true });
  }
  for (const night of [nightBefore, nightAfter]) {
    if (!night?.position) continue;
    const at = toPx(frame, toWorld(night.position));
    ctx.beginPath();
    ctx.arc(at.x, at.y - 24, 10, 0, 2 * Math.PI);
    ctx.fillStyle = c.raised;
    ctx.fill();
    ctx.strokeStyle = c.ink;
    ctx.lineWidth = 1.5;
    ctx.stroke();
    ctx.save();
    ctx.translate(at.x - 6, at.y - 30);
    ctx.scale(12 / 16, 12 / 16);
    ctx.lineWidth = 2;
    ctx.stroke(sign("dark"));
    ctx.restore();
  }
}

function drawArrow(
  ctx: CanvasRenderingContext2D,
  a: { x: number; y: number },
  b: { x: number; y: number },
  colour: string,
): void {
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  if (length < 40) return;
  ctx.save();
  ctx.translate((a.x + b.x) / 2, (a.y + b.y) / 2);
  ctx.rotate(Math.atan2(b.y - a.y, b.x - a.x));
  ctx.beginPath();
  ctx.moveTo(9, 0);
  ctx.lineTo(-5, -7);
  ctx.lineTo(-5, 7);
  ctx.closePath();
  ctx.fillStyle = colour;
  ctx.fill();
  ctx.restore();
}

function drawPicked(ctx: CanvasRenderingContext2D, frame: Frame): void {
  const { picked, scene, look } = frame;
  if (!picked) return;
  ctx.strokeStyle = look.colours.focus;
  if (picked.kind === "hop") {
    const hop = scene.hops.find((h) => h.row.code === picked.code);
    if (!hop) return;
    const a = toPx(frame, hop.near);
    const b = toPx(frame, hop.far);
    ctx.lineWidth = 4;
    for (const side of [-6, 6]) {
      const length = Math.hypot(b.x - a.x, b.y - a.y) || 1;
      const dx = (-(b.y - a.y) / length) * side;
      const dy = ((b.x - a.x) / length) * side;
      ctx.beginPath();
      ctx.moveTo(a.x + dx, a.y + dy);
      ctx.lineTo(b.x + dx, b.y + dy);
      ctx.lineWidth = 2.5;
      ctx.stroke();
    }
    text(ctx, look, picked.code, (a.x + b.x) / 2, (a.y + b.y) / 2 - 16, {
      centred: true,
      size: 13,
      bold: true,
    });
    return;
  }
  const site = scene.sites.find((s) => s.row.code === picked.code);
  if (!site) return;
  const at = toPx(frame, site);
  ctx.lineWidth = 3;
  ctx.beginPath();
  ctx.arc(at.x, at.y, MARK_PX + 5, 0, 2 * Math.PI);
  ctx.stroke();
  text(ctx, look, `${site.row.code} ${site.row.name}`, at.x + MARK_PX + 9, at.y, { size: 13, bold: true });
}

function drawScale(ctx: CanvasRenderingContext2D, { view, size, look }: Frame): void {
  const perKm = pxPerKm(view);
  const km = scaleBarKm(perKm, 140);
  const width = km * perKm;
  const y = size.heightPx - 14;
  ctx.strokeStyle = look.colours.ink;
  ctx.lineWidth = 2;
  ctx.beginPath();
  ctx.moveTo(12, y - 6);
  ctx.lineTo(12, y);
  ctx.lineTo(12 + width, y);
  ctx.lineTo(12 + width, y - 6);
  ctx.stroke();
  const words = km < 1 ? `${formatNumber(km * 1000)} m` : `${formatNumber(km)} km`;
  text(ctx, look, words, 18 + width, y - 4, { size: 12 });
}

interface TextLook {
  size: number;
  bold?: boolean;
  centred?: boolean;
  colour?: string;
  /** Without the halo that lifts it off the ground. */
  bare?: boolean;
}

function text(
  ctx: CanvasRenderingContext2D,
  look: Look,
  words: string,
  x: number,
  y: number,
  how: TextLook,
): void {
  ctx.font = `${how.bold ? 600 : 400} ${how.size}px ${look.face}`;
  ctx.textAlign = how.centred ? "center" : "left";
  ctx.textBaseline = "middle";
  if (!how.bare) {
    ctx.lineWidth = 3;
    ctx.strokeStyle = look.colours.surface;
    ctx.strokeText(words, x, y);
  }
  ctx.fillStyle = how.colour ?? look.colours.ink;
  ctx.fillText(words, x, y);
}
