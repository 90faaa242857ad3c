"use client";

import { type RefObject, useEffect, useId, useRef, useState } from "react";
import { fieldWords } from "./language/fieldWords";
import { useWords } from "./language/LanguageProvider";
import { Notice } from "./Notice";
import { type LocatedProblem, ProblemTable } from "./ProblemTable";

export interface ProblemListProps {
  problems: readonly LocatedProblem[];
  title?: string;
  /** Show at most so many; the rest is counted. */
  most?: number;
  /** What a field is called where no form around the list tells it. */
  nameOf?: (path: string) => string | undefined;
  /** Name of the form's field that a path means, where they differ. */
  fieldName?: (path: string) => string;
}

interface FormField {
  element: HTMLElement;
  /** A person knows a field by what stands over it. */
  label?: string;
}

/** The field of the form around `root` that a problem is about, where it has one. */
function fieldOf(root: HTMLElement | null, name: string): FormField | undefined {
  const found = root?.closest("form")?.elements.namedItem(name);
  const element = found instanceof RadioNodeList ? found[0] : found;
  if (!(element instanceof HTMLElement)) return undefined;
  const label = "labels" in element ? (element as HTMLInputElement).labels?.[0] : undefined;
  // A unit, "required" or a hint may follow inside the label: its first words are the name.
  const words = [...(label?.childNodes ?? [])].map((n) => n.textContent?.trim()).find(Boolean);
  return { element, label: words };
}

const NO_LABELS: ReadonlyMap<string, string> = new Map();

/**
 * Ties each field of the form around it to what is wrong with it, for whoever does not see that they belong together,
 * and gives what the form calls the fields.
 */
function useFields(
  root: RefObject<HTMLElement | null>,
  problems: readonly LocatedProblem[],
  fieldName: (path: string) => string,
  rowId: (index: number) => string,
): ReadonlyMap<string, string> {
  const [labels, setLabels] = useState(NO_LABELS);
  // biome-ignore lint/correctness/useExhaustiveDependencies: with other problems only; the rest says the same of the same ones
  useEffect(() => {
    const found = problems.map(({ path }, i) => ({ path, i, field: fieldOf(root.current, fieldName(path)) }));
    setLabels(
      new Map(found.flatMap(({ path, field }) => (field?.label ? [[path, field.label] as const] : []))),
    );
    const undo = found.flatMap(({ field, i }) => {
      if (!field) return [];
      const { element } = field;
      const described = element.getAttribute("aria-describedby");
      element.setAttribute("aria-invalid", "true");
      element.setAttribute("aria-describedby", [described, rowId(i)].filter(Boolean).join(" "));
      return [
        () => {
          element.removeAttribute("aria-invalid");
          if (described) element.setAttribute("aria-describedby", described);
          else element.removeAttribute("aria-describedby");
        },
      ];
    });
    return () => {
      for (const one of undo.reverse()) one();
    };
  }, [problems]);
  return labels;
}

/** So many are read out when they appear; of more only that there are, and the list is for reading. */
const MOST_SPOKEN = 3;
const AS_IT_IS = (path: string): string => path;

/** What is wrong with an input: file, row, field, value, what is wrong and what to do. Nothing when there is no problem. */
export function ProblemList(props: ProblemListProps) {
  const { problems, title, most = 200, nameOf, fieldName = AS_IT_IS } = props;
  const { t } = useWords();
  const root = useRef<HTMLDivElement>(null);
  const id = useId();
  const labels = useFields(root, problems, fieldName, (i) => `${id}-${i}`);
  // A refusal below the screen's edge looks as if nothing had happened. The first problem is another one with every
  // answer; the list around it may be made anew with every letter typed. A page that opens with problems stays at its top.
  const first = problems[0];
  const shownBefore = useRef(first);
  // The focus goes to the first field that is wrong, and the page to the list, which says what is.
  // biome-ignore lint/correctness/useExhaustiveDependencies: only new problems
  useEffect(() => {
    if (first && first !== shownBefore.current) {
      const wrong = problems.map((p) => fieldOf(root.current, fieldName(p.path))).find(Boolean);
      wrong?.element.focus({ preventScroll: true });
      root.current?.scrollIntoView({ block: "nearest" });
    }
    shownBefore.current = first;
  }, [first]);
  if (problems.length === 0) return null;
  const labelOf = (path: string) => nameOf?.(path) ?? labels.get(path) ?? fieldWords(path, t);
  const list = problems.slice(0, most);
  const count = problems.length;
  const isSpoken = count <= MOST_SPOKEN;
  return (
    <div className="grid scroll-my-24 gap-2" ref={root} role={isSpoken ? "alert" : undefined}>
      <Notice kind="problem" announce={!isSpoken} title={title ?? t("{{count}} problems", { count })}>
        {t("Nothing was saved. Do what is said beside each and try again.")}
      </Notice>
      <ProblemTable problems={list} nameOf={labelOf} id={id} />
      {count > list.length ? (
        <p className="text-quiet">
          {t("and {{more}} more of the same file", { more: String(count - list.length) })}
        </p>
      ) : null}
    </div>
  );
}
