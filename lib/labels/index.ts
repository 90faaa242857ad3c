export {
  isDrum,
  LABEL_KINDS,
  type Label,
  type LabelKind,
  type LineScan,
  labelText,
  lineOfScan,
  readLabel,
  type ScannableLine,
} from "./labels";
export {
  A4,
  LABEL_RIM_MM,
  LABEL_SHEETS,
  type LabelSheet,
  type LabelSheetKey,
  perSheet,
  qrSideMm,
  type Slot,
  slotsOf,
} from "./sheets";
