import type { Words } from "@/app/_ui/language/words";
import type { KitLineView } from "@/db/queries/kitView";

/** Why the lot in the hand is not the one to take, though the item is right. */
export function otherLotWords(
  { itemCode, name, sources, otherLots }: Pick<KitLineView, "itemCode" | "name" | "sources" | "otherLots">,
  code: string,
  t: Words["t"],
): string {
  const isSame = (lotCode: string) => lotCode.toUpperCase() === code.toUpperCase();
  const expiresOn = otherLots.find((l) => isSame(l.lotCode))?.expiresOn ?? null;
  const lots = [...new Set(sources.map((s) => s.lotCode))].filter(Boolean).join(", ");
  if (lots === "")
    return t(
      "{{item}} {{name}}: right item, but this kit takes nothing of lot {{lot}}; nothing was ticked.",
      {
        item: itemCode,
        name,
        lot: code,
      },
    );
  const areFirst = sources.every(
    (s) => s.expiresOn !== null && (expiresOn === null || s.expiresOn < expiresOn),
  );
  return areFirst
    ? t("{{item}} {{name}}: right item, but lot {{lots}} expires first: take that; nothing was ticked.", {
        item: itemCode,
        name,
        lots,
      })
    : t("{{item}} {{name}}: right item, but this kit takes lot {{lots}}: take that; nothing was ticked.", {
        item: itemCode,
        name,
        lots,
      });
}
