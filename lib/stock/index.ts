export { type LotPicks, pickLots, type StockLot } from "./expiry";
export { type Lot, lotCost, orderQuantity, silverMeal, wagnerWhitin } from "./lotSizing";
export { netByDate } from "./netting";
export type { ItemNetting, ItemPosition, LotRule, NeedLine, PlannedOrder, ReceiptDue } from "./types";
