export {
  type ApprovalLimit,
  type ApprovingRole,
  approvalProblem,
  costOf,
  LIMITED_ROLES,
  type LimitedRole,
  mayApprove,
  orderCost,
} from "./approval";
export { type CloseOutLine, closeOut, type HopCloseOut, type HopMaterial } from "./closeOut";
export {
  compareLotRules,
  LOT_RULES,
  type LotFigures,
  type LotRuleCost,
  lotFigures,
  lotRuleOf,
  type OrderingData,
  priceOf,
} from "./compareLots";
export { economicOrder, economicOrderWithBreaks, type PriceBreak } from "./eoq";
export { type LotPicks, pickLots, type StockLot } from "./expiry";
export {
  deadShare,
  FAULT_CAUSES,
  type FaultCause,
  type FaultMovementKind,
  type FaultState,
  faultState,
  faultSteps,
  type ShareOfPieces,
} from "./faults";
export {
  type Balance,
  balanceOf,
  EMPTY_LEDGER,
  type Ledger,
  ledgerTotals,
  postMovement,
} from "./ledger";
export { lotCost, orderQuantity, silverMeal } from "./lotSizing";
export { type MeasuredStock, measuredStock, weeklyUse } from "./measured";
export { MOVEMENT_KINDS, type Movement, type MovementKind, reversalOf } from "./movement";
export {
  byTurn,
  type KitNeed,
  needsFromKits,
  pickDay,
  type Turn,
} from "./needs";
export { netByDate } from "./netting";
export {
  type LengthClass,
  lengthClasses,
  type Offcut,
  type OffcutReason,
  type OffcutSum,
  type Remnant,
  type RemnantSum,
  SCRAP_REASONS,
  type ScrapReason,
  sumOffcuts,
  sumRemnants,
} from "./offcuts";
export {
  DEFAULT_STOCK_POLICY,
  kitPlace,
  type PlaceOnMap,
  type StockPolicy,
  shareSafetyStock,
  transferDays,
} from "./places";
export { priceBreakLots } from "./priceBreakLots";
export {
  type Delivery,
  type LeadTimeStatistics,
  leadTimeStatistics,
  meanAndSd,
  normalQuantile,
  reorderPoint,
  safetyStock,
  safetyStockBothVary,
  type UseAndLeadTime,
} from "./safetyStock";
export {
  type SerialAccount,
  type SerialFacts,
  type SerialRow,
  type SerialState,
  serialAccount,
} from "./serialAccounts";
export { isSameSerial, serialAgainAt, serialOf, serialsTyped, takesSerials } from "./serials";
export {
  deadInRepairTime,
  drawnRate,
  PRIOR_EXPOSURE,
  poissonAtMost,
  type SpareDemand,
  type SpareNumber,
  type SparePolicy,
  type SpareShelf,
  spareNumbers,
  sparesFor,
  type VariantBase,
} from "./spares";
export { earliestReadyDays, type LineSupply, type VisitClaim, type VisitSupply } from "./supply";
export type {
  ItemNetting,
  ItemPosition,
  LotRule,
  NeedLine,
  PlannedOrder,
  PriceBreakCosts,
  ReceiptDue,
  ShelfBalance,
} from "./types";
export { type Lot, wagnerWhitin } from "./wagnerWhitin";
export {
  netWarehouses,
  type TransferProposal,
  type TransferRules,
  type Warehouse,
  type WarehouseItem,
  type WarehousesNetting,
} from "./warehouses";
export { effectOfSlip, type SlipEffect, slipReceipt, type VisitHit } from "./whatIf";
