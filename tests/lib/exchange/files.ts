/** Short ways to make files and to take them through an import. */
import { deflateRawSync } from "node:zlib";
import ExcelJS from "exceljs";
import { applyMatching, matchColumns, overrideMatching } from "@/lib/exchange/match";
import { parseRows } from "@/lib/exchange/parseRows";
import { readTable } from "@/lib/exchange/readTable";
import type { KindName } from "@/lib/exchange/rows";
import type { MatchChoice, ParsedFile, ReadOptions, Table } from "@/lib/exchange/types";

export const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

/** Lines of a CSV file, joined with CRLF. */
export const lines = (...list: string[]): Uint8Array => bytesOf(`${list.join("\r\n")}\r\n`);

export async function tableOf(bytes: Uint8Array, fileName = "test.csv", sheet?: string): Promise<Table> {
  const table = await readTable(fileName, bytes, sheet === undefined ? {} : { sheet });
  if (!table.ok) throw new Error(JSON.stringify(table.problems, null, 1));
  return table.value;
}

/** The rules that refused a file. */
export async function refusalOf(bytes: Uint8Array, fileName = "test.csv", sheet?: string): Promise<string[]> {
  const table = await readTable(fileName, bytes, sheet === undefined ? {} : { sheet });
  return table.ok ? [] : table.problems.map((p) => p.rule);
}

export async function parsedOf<K extends KindName>(
  kind: K,
  bytes: Uint8Array,
  options: ReadOptions & {
    fileName?: string;
    choices?: readonly MatchChoice[];
    constants?: Record<string, string>;
  } = {},
): Promise<ParsedFile<K>> {
  const table = await tableOf(bytes, options.fileName);
  const proposed = matchColumns(table.header, kind);
  const matching = overrideMatching(proposed, table.header, options.choices ?? []);
  const matched = applyMatching(
    table,
    kind,
    options.constants ? { ...matching, constants: options.constants } : matching,
  );
  if (!matched.ok) throw new Error(JSON.stringify(matched.problems, null, 1));
  return parseRows(matched.value, options);
}

export async function workbook(build: (wb: ExcelJS.Workbook) => void): Promise<Uint8Array> {
  const wb = new ExcelJS.Workbook();
  build(wb);
  return new Uint8Array(await wb.xlsx.writeBuffer());
}

/** A zip container of the given parts, which states a size of 1 byte for each unless it is honest. */
export function zip(
  parts: { name: string; content: Uint8Array; flags?: number }[],
  isHonest = false,
): Uint8Array {
  const chunks: Buffer[] = [];
  const central: Buffer[] = [];
  let at = 0;
  for (const { name, content, flags = 0 } of parts) {
    const packed = deflateRawSync(content);
    const head = Buffer.alloc(30);
    head.writeUInt32LE(0x04034b50, 0);
    head.writeUInt16LE(flags, 6);
    head.writeUInt16LE(8, 8);
    head.writeUInt32LE(packed.length, 18);
    head.writeUInt32LE(isHonest ? crc32(content) : 0, 14);
    head.writeUInt32LE(isHonest ? content.length : 1, 22);
    head.writeUInt16LE(name.length, 26);
    const entry = Buffer.alloc(46);
    entry.writeUInt32LE(0x02014b50, 0);
    entry.writeUInt16LE(flags, 8);
    entry.writeUInt16LE(8, 10);
    entry.writeUInt32LE(packed.length, 20);
    entry.writeUInt32LE(isHonest ? crc32(content) : 0, 16);
    entry.writeUInt32LE(isHonest ? content.length : 1, 24);
    entry.writeUInt16LE(name.length, 28);
    entry.writeUInt32LE(at, 42);
    chunks.push(head, Buffer.from(name), packed);
    central.push(entry, Buffer.from(name));
    at += 30 + name.length + packed.length;
  }
  const directory = Buffer.concat(central);
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50, 0);
  end.writeUInt16LE(parts.length, 8);
  end.writeUInt16LE(parts.length, 10);
  end.writeUInt32LE(directory.length, 12);
  end.writeUInt32LE(at, 16);
  return new Uint8Array(Buffer.concat([...chunks, directory, end]));
}

function crc32(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (const b of bytes) {
    crc ^= b;
    for (let k = 0; k < 8; k++) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
  }
  return (crc ^ 0xffffffff) >>> 0;
}
