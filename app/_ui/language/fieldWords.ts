/** Fields of refusals that no form around the list names, in the reader's language. */
import type { Words } from "./words";

/** What a path such as "line 3 (ODU-23-A)" is called; undefined = it has no name here. */
export function fieldWords(path: string, t: Words["t"]): string | undefined {
  if (path === "serial") return t("Serial");
  if (path === "serials") return t("Serials");
  // Tick boxes share a name, so that no single label stands over them.
  if (path === "regions") return t("Regions");
  const [, lineNo, item] = /^line (\d+)(?: \((.+)\))?$/.exec(path) ?? [];
  if (lineNo === undefined) return undefined;
  return item === undefined
    ? t("Line {{lineNo}}", { lineNo })
    : t("Line {{lineNo}} ({{item}})", { lineNo, item });
}
