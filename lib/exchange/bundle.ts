/** Several files at once: a row may refer to rows of the same import, whatever the order of files and rows. */
import type { Standing } from "./draft";
import { KIND_NAMES } from "./kinds";
import { previewKind, standingOf } from "./preview";
import type { KindName, RowOf } from "./rows";
import type {
  BundlePreview,
  ExchangeProblem,
  ExistingRows,
  FateTotals,
  ParsedFile,
  Preview,
  RunOptions,
} from "./types";

/**
 * Previews all files together, kind by kind so that each kind finds what it refers to: rows that stand, and rows of
 * this import that are accepted. What a refused row would have brought is not there for others.
 */
export async function previewBundle(
  files: readonly ParsedFile[],
  existing: ExistingRows,
  run: RunOptions = {},
): Promise<BundlePreview> {
  const standing = new GrowingRows(existing);
  const previews = new Map<ParsedFile, Preview>();
  const totals: FateTotals = { new: 0, changed: 0, same: 0, refused: 0, notInFile: 0 };
  for (const kind of KIND_NAMES) {
    const ofKind = files.filter((f) => f.kind === kind);
    if (ofKind.length === 0) continue;
    const rows = (existing[kind] ?? new Map()) as ReadonlyMap<string, RowOf<KindName>>;
    const { previews: done, accepted, refused } = await previewKind(kind, ofKind, rows, standing, run);
    standing.add(kind, accepted, refused);
    done.forEach((preview, i) => {
      previews.set(ofKind[i]!, preview);
      for (const fate of ["new", "changed", "same", "refused", "notInFile"] as const) {
        totals[fate] += preview.totals[fate];
      }
    });
  }
  const inOrder = files.map((f) => previews.get(f)!);
  return { files: inOrder, totals, problems: [], digest: digestOf(inOrder) };
}

/** Rows to store, by kind: those whose fate is new or changed. All of them or none, in the order of KIND_NAMES. */
export function rowsToStore(preview: BundlePreview): { kind: KindName; rows: readonly RowOf<KindName>[] }[] {
  return KIND_NAMES.flatMap((kind) => {
    const rows = preview.files
      .filter((f) => f.kind === kind)
      .flatMap((f) =>
        f.rows.flatMap((r) => (r.value && (r.fate === "new" || r.fate === "changed") ? [r.value] : [])),
      );
    return rows.length > 0 ? [{ kind, rows }] : [];
  });
}

/** All problems of all rows, in file order. */
export function problemsOf(preview: BundlePreview): ExchangeProblem[] {
  return [...preview.problems, ...preview.files.flatMap((f) => f.rows.flatMap((r) => r.problems))];
}

/** What stands, with what this import adds kind by kind. State: it grows through the preview. */
class GrowingRows implements Standing {
  readonly #existing: ExistingRows;
  readonly #accepted = new Map<KindName, ReadonlyMap<string, unknown>>();
  readonly #refused = new Map<KindName, ReadonlyMap<string, string>>();
  readonly #old: Standing;
  readonly #added = new Map<KindName, Standing>();

  constructor(existing: ExistingRows) {
    this.#existing = existing;
    this.#old = standingOf(existing);
  }

  add(kind: KindName, accepted: ReadonlyMap<string, unknown>, refused: ReadonlyMap<string, string>): void {
    this.#accepted.set(kind, accepted);
    this.#refused.set(kind, refused);
    this.#added.set(kind, standingOf({ [kind]: accepted } as ExistingRows));
  }

  row(kind: KindName, key: string): unknown {
    return this.#accepted.get(kind)?.get(key) ?? this.#old.row(kind, key);
  }

  refusedAt(kind: KindName, key: string): string | undefined {
    return this.#existing[kind]?.has(key) ? undefined : this.#refused.get(kind)?.get(key);
  }

  near(kind: KindName, key: string): string | undefined {
    return this.#added.get(kind)?.near(kind, key) ?? this.#old.near(kind, key);
  }
}

/** The same whatever the order of files and rows. */
function digestOf(previews: readonly Preview[]): string {
  const lines = previews.flatMap((p) =>
    p.rows.map((r) => JSON.stringify([p.kind, r.key, r.fate, r.value ?? null, r.changes])),
  );
  return hash106(lines.sort());
}

/**
 * 106 bits over all lines (two runs of cyrb53, public domain, with different seeds): tells two previews apart, keeps no
 * secret.
 */
function hash106(lines: readonly string[]): string {
  return [0x9e3779b9, 0x85ebca6b]
    .map((seed) => {
      let h1 = 0xdeadbeef ^ seed;
      let h2 = 0x41c6ce57 ^ seed;
      for (const line of lines) {
        for (let i = 0; i <= line.length; i++) {
          const c = i < line.length ? line.charCodeAt(i) : 10;
          h1 = Math.imul(h1 ^ c, 2654435761);
          h2 = Math.imul(h2 ^ c, 1597334677);
        }
      }
      h1 = Math.imul(h1 ^ (h1 >>> 16), 2246822507) ^ Math.imul(h2 ^ (h2 >>> 13), 3266489909);
      h2 = Math.imul(h2 ^ (h2 >>> 16), 2246822507) ^ Math.imul(h1 ^ (h1 >>> 13), 3266489909);
      return (4294967296 * (2097151 & h2) + (h1 >>> 0)).toString(16).padStart(14, "0");
    })
    .join("");
}
