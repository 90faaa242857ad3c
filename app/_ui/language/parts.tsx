/** Sentences with a link or other markup in them: said whole, for other languages put it elsewhere. */
import { Fragment, type ReactNode } from "react";

const MARK = "\u2060";

/** Values for `t` that keep the places of a sentence, for `withParts` to fill. */
export const places = <Name extends string>(...names: Name[]): Record<Name, string> =>
  Object.fromEntries(names.map((name) => [name, `${MARK}${name}${MARK}`])) as Record<Name, string>;

/** A sentence said with `places`, each filled with what belongs there. */
export function withParts(said: string, parts: Readonly<Record<string, ReactNode>>): ReactNode {
  return said.split(MARK).map((piece, at) => (
    // biome-ignore lint/suspicious/noArrayIndexKey: the pieces of a sentence keep their order
    <Fragment key={at}>{at % 2 === 0 ? piece : parts[piece]}</Fragment>
  ));
}
