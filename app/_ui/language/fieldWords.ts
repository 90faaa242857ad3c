/** Fields of refusals that no form around the list names, in the reader's language. */
import type { Words } from "./words";

/** Fields by the last word of their path. */
function nameOf(field: string, t: Words["t"]): string | undefined {
  switch (field) {
    case "serial":
      return t("Serial");
    case "serials":
      return t("Serials");
    case "quantity":
      return t("Quantity");
    case "lot":
      return t("Lot");
    case "expires":
      return t("Last day of use");
    case "hold":
      return t("On hold");
    case "drums":
      return t("Drums");
    case "from":
      return t("From");
    case "to":
      return t("To");
    // Tick boxes share a name, so that no single label stands over them.
    case "regions":
      return t("Regions");
  }
}

/** What a path such as "line 3 (ODU-23-A)" or "line 3 quantity" is called; undefined = it has no name here. */
export function fieldWords(path: string, t: Words["t"]): string | undefined {
  const [, lineNo, item, field] = /^line (\d+)(?: \((.+)\)| (\w+))?$/.exec(path) ?? [];
  if (lineNo === undefined) return nameOf(path, t);
  if (item !== undefined) return t("Line {{lineNo}} ({{item}})", { lineNo, item });
  const line = t("Line {{lineNo}}", { lineNo });
  if (field === undefined) return line;
  const name = nameOf(field, t);
  return name && `${line}: ${name}`;
}
