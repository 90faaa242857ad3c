/** Names of visits, apart from all else that is known of them: pages in a browser need no more. */
import { figure, type Phrase, phrase } from "@/lib/phrase";
import type { AcceptanceProcedure, EndSide } from "@/lib/site";

export const SIDES: readonly EndSide[] = ["near", "far"];

export type VisitWork = "install" | "alignment" | "acceptance" | "revisit";

/** @param part 1 for the first or only visit of the work, 2 for the second ... */
export function visitIdOf(hopCode: string, side: EndSide, kind: VisitWork, part = 1): string {
  return `${hopCode}/${side}/${kind}${part > 1 ? `-${part}` : ""}`;
}

export interface NamedWork {
  hopCode: string;
  side: EndSide;
  kind: VisitWork;
  part: number;
}

/** What a visit id says; undefined when the text is none. */
export function parseVisitId(id: string): NamedWork | undefined {
  const m = /^(.+)\/(near|far)\/(install|alignment|acceptance|revisit)(?:-([2-9]|[1-9]\d+))?$/.exec(id);
  return m
    ? { hopCode: m[1]!, side: m[2] as EndSide, kind: m[3] as VisitWork, part: Number(m[4] ?? 1) }
    : undefined;
}

/** What a visit does, as a crew says it. */
export function visitWords(
  kind: VisitWork,
  { acceptance, remedy }: { acceptance?: AcceptanceProcedure; remedy?: string } = {},
): string {
  switch (kind) {
    case "install":
      return "Install";
    case "alignment":
      return acceptance === "own visit" ? "Alignment" : "Alignment and acceptance";
    case "acceptance":
      return "Acceptance";
    case "revisit":
      return remedy ? `Revisit (${remedy})` : "Revisit";
  }
}

/** A visit as people say it: "VH028 near install", "VH028 far alignment, part 2". An id that is none stays as it is. */
export function visitPhrase(id: string): Phrase | string {
  const named = parseVisitId(id);
  if (!named) return id;
  const { hopCode, part } = named;
  const of = { hop: hopCode, side: phrase(named.side), kind: phrase(named.kind) };
  return part > 1
    ? phrase("{{hop}} {{side}} {{kind}}, part {{part}}", { ...of, part: figure(part) })
    : phrase("{{hop}} {{side}} {{kind}}", of);
}

/**
 * What somebody typed of a visit, as the parts of its id: "H-012 far", "H-012 far end", "H-012 far install, part 2" or the
 * id itself. The hop stays as it was typed.
 * @param own words of the reader's language for those of the id, both in lower case: "fern" -> "far"
 */
export function typedVisitParts(text: string, own: ReadonlyMap<string, string> = new Map()): string[] {
  const [hopCode, ...rest] = text.split(/[\s/,]+/).filter(Boolean);
  if (hopCode === undefined) return [];
  const words = rest
    .map((word) => own.get(word.toLowerCase()) ?? word.toLowerCase())
    .filter((word) => word !== "end");
  const part = words.indexOf("part");
  if (part < 1 || part !== words.length - 2) return [hopCode, ...words];
  const [kind, n] = [words[part - 1], words[part + 1]];
  return [hopCode, ...words.slice(0, part - 1), n === "1" ? `${kind}` : `${kind}-${n}`];
}
