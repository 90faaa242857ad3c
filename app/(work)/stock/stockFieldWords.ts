import type { Words } from "@/app/_ui/language/words";

/** Fields of goods by the last word of their path, as forms of the stock send them. */
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
  }
}

/** What a path such as "quantity" or "line 3 quantity" is called; undefined = it has no name here. */
export function stockFieldWords(path: string, t: Words["t"]): string | undefined {
  const [, lineNo, field] = /^line (\d+) (\w+)$/.exec(path) ?? [];
  if (lineNo === undefined || field === undefined) return nameOf(path, t);
  const name = nameOf(field, t);
  return name && `${t("Line {{lineNo}}", { lineNo })}: ${name}`;
}
