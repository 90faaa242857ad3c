import type { Words } from "@/app/_ui/language/words";
import { SUPPLIER_OPEN } from "@/db/queries/ordersToPlace";

/** Whom to order from, where it is known. */
export const supplierWords = (supplier: string, t: Words["t"]): string =>
  supplier === SUPPLIER_OPEN ? t("Supplier to be chosen") : supplier;
