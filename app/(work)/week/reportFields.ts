import type { Words } from "@/app/_ui/language/words";

interface Said {
  uses?: readonly { itemCode: string; runId?: string | null }[];
  hung?: readonly { oduLabel: string }[];
  faults?: readonly { itemCode: string }[];
}

/**
 * What a field of a report is called on the form, by its place in what was sent ("uses.3.used"). A kept report is
 * refused away from its form, too, so its fields cannot be looked up there.
 */
export function reportFieldName(
  path: string,
  report: Readonly<Record<string, unknown>>,
  t: Words["t"],
): string {
  const { uses, hung, faults } = report as Said;
  const [field = "", index = "", part] = path.split(".");
  const i = Number(index);
  switch (field) {
    case "visitId":
      return t("Visit");
    case "workedOn":
      return t("Day worked");
    case "workedMin":
      return t("Hours worked on site");
    case "leftMin":
      return t("Hours left");
    case "holdReason":
      return t("Why is it on hold?");
    case "note":
      return t("Note");
    case "outcome":
      return t("Outcome");
    case "parts":
      return t("Minutes by task");
    case "readings":
      return t("Acceptance readings");
    case "hung":
      return hung?.[i]
        ? t("Serial of {{radio}}", { radio: hung[i].oduLabel })
        : t("Serials of the radios that hang");
    case "faults":
      return faults?.[i]
        ? t("Faulty unit {{number}}", { number: `${i + 1}, ${faults[i].itemCode}` })
        : t("A unit is dead or faulty");
    case "uses":
      if (!uses?.[i]) return t("Kit");
      return [
        part === "left" ? t("Left over") : t("Used"),
        // Of two runs of one cable each has its own name: the end of its id.
        [uses[i].itemCode, uses[i].runId?.split("/").at(-1)].filter(Boolean).join(" "),
      ].join(", ");
    default:
      return path;
  }
}
