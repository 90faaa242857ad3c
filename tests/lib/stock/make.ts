import type { ItemPosition, NeedLine, ReceiptDue } from "@/lib/stock";

export function position(itemCode: string, onHand: number, more: Partial<ItemPosition> = {}): ItemPosition {
  return { itemCode, onHand, safetyStock: 0, leadTimeDays: 10, lotRule: { kind: "lot for lot" }, ...more };
}

export function need(itemCode: string, day: number, quantity: number, visitId = `v${day}`): NeedLine {
  return { itemCode, day, quantity, visitId, siteCode: `S-${visitId}` };
}

export function receipt(itemCode: string, day: number, quantity: number, orderCode = `PO${day}`): ReceiptDue {
  return { itemCode, day, quantity, orderCode };
}
