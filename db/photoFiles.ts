/**
 * Pictures as files of the data folder, `photos/` beside the database: a few hundred kilobytes each would make every
 * copy of the database slow. Names are the photos' keys, which are checked before they come here.
 */
import {
  closeSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeSync,
} from "node:fs";
import path from "node:path";
import { isPhotoKey } from "@/lib/photos";
import { dataFolder } from "./open";

function fileOf(key: string, kind: "jpg" | "part"): string {
  if (!isPhotoKey(key)) throw new RangeError(`no photo key: ${key}`);
  return kind === "part"
    ? path.join(dataFolder(), "photos", "arriving", key)
    : path.join(dataFolder(), "photos", key.slice(0, 2), `${key}.jpg`);
}

/** Bytes of a photo that have arrived so far. */
export function arrivedBytes(key: string): number {
  const file = fileOf(key, "part");
  return existsSync(file) ? statSync(file).size : 0;
}

/** Adds a piece behind what is there; what overlaps is taken from the piece. Gives the bytes that are there now. */
export function addPiece(key: string, offset: number, piece: Uint8Array): number {
  const file = fileOf(key, "part");
  const here = arrivedBytes(key);
  // A hole, a question, or a piece that came before: the sender goes on from what is there.
  if (offset > here || offset + piece.length <= here) return here;
  mkdirSync(path.dirname(file), { recursive: true });
  writeDurably(file, "a", piece.subarray(here - offset));
  return offset + piece.length;
}

export function arrived(key: string): Uint8Array {
  return readFileSync(fileOf(key, "part"));
}

export function forgetArriving(key: string): void {
  rmSync(fileOf(key, "part"), { force: true });
}

/** Whole or not at all: a power cut leaves no half picture under the name. */
export function writePhoto(key: string, bytes: Uint8Array): void {
  const file = fileOf(key, "jpg");
  mkdirSync(path.dirname(file), { recursive: true });
  writeDurably(`${file}.new`, "w", bytes);
  renameSync(`${file}.new`, file);
}

export function readPhoto(key: string): Uint8Array | undefined {
  const file = fileOf(key, "jpg");
  return existsSync(file) ? readFileSync(file) : undefined;
}

export function removePhotoFile(key: string): void {
  rmSync(fileOf(key, "jpg"), { force: true });
}

/** Takes away what began to arrive and was never finished. */
export function dropStale(beforeMillis: number): number {
  const folder = path.join(dataFolder(), "photos", "arriving");
  if (!existsSync(folder)) return 0;
  const stale = readdirSync(folder).filter(
    (name) => statSync(path.join(folder, name)).mtimeMs < beforeMillis,
  );
  for (const name of stale) rmSync(path.join(folder, name), { force: true });
  return stale.length;
}

function writeDurably(file: string, flag: "a" | "w", bytes: Uint8Array): void {
  const handle = openSync(file, flag, 0o600);
  try {
    for (let at = 0; at < bytes.length; ) at += writeSync(handle, bytes, at);
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}
