export type { StandingOrderRow } from "./approved";
export {
  type DesignRows,
  hopsFromRows,
  hopsWithout,
  itemFromRow,
  rowFromItem,
  rowFromSite,
  rowsFromHops,
  siteFromRow,
} from "./assemble";
export { previewBundle, problemsOf, rowsToStore } from "./bundle";
export { cleanText } from "./cells";
export { headerOf } from "./columns";
export { type ItemMeasure, orderDoubts } from "./doubts";
export {
  type FilesPreview,
  type FileToImport,
  type MatchedHeader,
  previewFiles,
  type TableChoices,
} from "./exchange";
export { guardText } from "./guard";
export { guessKind } from "./guess";
export type { WeatherOptions } from "./hourReader";
export { keyOf } from "./keys";
export { KIND_NAMES, kindOf, rowSchema } from "./kinds";
export { END_DEFAULTS } from "./kinds/hops";
export { applyMatching, matchColumns, overrideMatching } from "./match";
export { parseRows } from "./parseRows";
export { firstHoursDoubts, type PlaceStand, type PlacesOfImport, placeDoubts } from "./placeDoubts";
export { previewImport } from "./preview";
export { fileSizeProblem, MAX_FILE_BYTES } from "./problems";
export {
  type FileSource,
  type ReadTableOptions,
  readTable,
  readTables,
  type SheetReading,
} from "./readTable";
export type {
  ActualHoursRow,
  AntennaRow,
  CrewMemberRow,
  CrewRow,
  EndRow,
  GateRow,
  HeldSkill,
  HopRow,
  ItemRow,
  KindName,
  Leave,
  OrderRow,
  PlaceRow,
  RadioRow,
  RowOf,
  RowsByKind,
  SiteRow,
  StockRow,
  WeatherPlaceRow,
  WeatherRow,
} from "./rows";
export type { DecimalMark } from "./separator";
export { blockOfSeries, previewWeather, type SeriesInfo, seriesToStore, type WeatherPreview } from "./series";
export { templateCsv, templateWorkbook, templateXlsx } from "./template";
export {
  previewTyped,
  type TakenOut,
  type TypedRow,
  type TypedText,
  typedCells,
  typedColumns,
  typedText,
} from "./typed";
export type {
  BundlePreview,
  Cell,
  CellFault,
  Column,
  ColumnMatch,
  ColumnType,
  Confidence,
  Encoding,
  ExchangeProblem,
  ExistingRows,
  Fate,
  FateTotals,
  FieldChange,
  ImportKind,
  MatchChoice,
  MatchedTable,
  Matching,
  ParsedFile,
  ParsedRow,
  Preview,
  PreviewRow,
  Progress,
  Question,
  ReadOptions,
  RunOptions,
  Separator,
  Table,
  UnitConversion,
  UnmatchedColumn,
} from "./types";
export { type UnitId, unitsLike } from "./units";
export {
  readWeather,
  rowsOfBlock,
  unknownPlaces,
  type WeatherBlock,
  type WeatherReading,
} from "./weather";
export {
  type CsvOptions,
  encodeCsv,
  writeCsv,
  writeTableCsv,
  writeTableXlsx,
  writeWorkbook,
  writeXlsx,
} from "./write";
