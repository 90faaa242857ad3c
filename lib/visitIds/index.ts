/** Names of visits, apart from all else that is known of them: pages in a browser need no more. */
import { figure, type Phrase, phrase } from "@/lib/phrase";
import type { EndSide } from "@/lib/site";

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
