import type { Words } from "@/app/_ui/language/words";
import { SUPPLIER_OPEN } from "@/db/queries/ordersToPlace";
import type { OrderView } from "@/db/queries/orderViews";

/** Whom to order from, where it is known; an order that came from a file may name nobody. */
export const supplierWords = (supplier: string, t: Words["t"]): string =>
  supplier === SUPPLIER_OPEN ? t("Supplier to be chosen") : supplier || t("supplier not named");

export const isNamed = (supplier: string): boolean => supplier !== "" && supplier !== SUPPLIER_OPEN;

/** What an order is, from whom and to where, and who made it. */
export function orderLead(
  {
    kind,
    supplier,
    placeCode,
    placeName: name,
    createdBy,
  }: Pick<OrderView, "kind" | "supplier" | "placeCode" | "placeName" | "createdBy">,
  createdAt: string,
  t: Words["t"],
): string {
  const placeName = `${placeCode} ${name}`;
  const values = { supplier, placeName, createdBy, createdAt };
  if (kind === "purchase")
    return isNamed(supplier)
      ? t("Purchase from {{supplier}} to {{placeName}}. Made by {{createdBy}}, {{createdAt}}.", values)
      : t("Purchase to {{placeName}}, supplier not named. Made by {{createdBy}}, {{createdAt}}.", values);
  return isNamed(supplier)
    ? t("Call-off from {{supplier}} to {{placeName}}. Made by {{createdBy}}, {{createdAt}}.", values)
    : t("Call-off to {{placeName}}, supplier not named. Made by {{createdBy}}, {{createdAt}}.", values);
}
