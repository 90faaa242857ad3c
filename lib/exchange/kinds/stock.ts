import { figure, phrase } from "@/lib/phrase";
import { sentences } from "@/lib/result";
import { columnsOf } from "../columns";
import type { OrderRow, PlaceRow, StockRow } from "../rows";
import type { Cells, ImportKind, RowFault } from "../types";
import { OWNERS } from "./ends";
import { currencyFaults } from "./items";

const p = columnsOf<PlaceRow>();
const s = columnsOf<StockRow>();
const o = columnsOf<OrderRow>();

export const places: ImportKind<"places"> = {
  name: "places",
  title: "Places",
  description: "Warehouses (also crews' depots), vehicles, and sites that hold stock.",
  key: ["code"],
  references: [],
  columns: [
    p.text("code", "Place", "WH-NORTH", "Code that names the place.", {
      required: true,
      aliases: ["place code", "code", "warehouse", "depot", "location"],
      maxLength: 60,
    }),
    p.text("name", "Name", "North warehouse", "Name on lists.", { required: true, aliases: ["place name"] }),
    p.choice("kind", "Kind", "warehouse", "warehouse, vehicle, site, hold or repair.", {
      aliases: ["place kind", "type"],
      choices: ["warehouse", "vehicle", "site", "hold", "repair"],
      choiceAliases: { depot: "warehouse", store: "warehouse", van: "vehicle", truck: "vehicle" },
      default: "warehouse",
    }),
    p.measure("latDeg", "Latitude", "deg", "47.42", "Degrees north.", {
      aliases: ["lat"],
      min: -90,
      max: 90,
    }),
    p.measure("lonDeg", "Longitude", "deg", "8.31", "Degrees east.", {
      aliases: ["lon", "lng"],
      min: -180,
      max: 180,
    }),
  ],
  check: (row) =>
    (row.latDeg === undefined) === (row.lonDeg === undefined)
      ? []
      : [
          {
            key: row.latDeg === undefined ? "latDeg" : "lonDeg",
            rule: "position-incomplete",
            ...sentences(
              phrase("Latitude and longitude must be given together."),
              phrase("Fill in both, or leave both blank."),
            ),
          },
        ],
};

const itemCode = s.text("itemCode", "Item", "CX-400", "Catalogue code.", {
  required: true,
  aliases: ["item code", "part number", "article"],
  maxLength: 60,
});

const placeCode = s.text("placeCode", "Place", "WH-NORTH", "Warehouse, vehicle or site.", {
  required: true,
  aliases: ["place code", "warehouse", "location"],
  maxLength: 60,
});

export const stock: ImportKind<"stock"> = {
  name: "stock",
  title: "Stock",
  description:
    "Opening stock: what lies where. Cable has one row per drum with its serial and remaining metres.",
  key: ["itemCode", "placeCode", "owner", "lotCode", "drumSerial"],
  uniques: [["drumSerial"]],
  agreements: [{ by: ["lotCode"], columns: ["itemCode", "expiresOn"] }],
  references: [
    { columns: ["itemCode"], kinds: ["items"] },
    { columns: ["placeCode"], kinds: ["places", "sites"] },
  ],
  columns: [
    itemCode,
    placeCode,
    s.choice("owner", "Owner", "contractor", "Who owns it.", { choices: OWNERS, default: "contractor" }),
    s.text("lotCode", "Lot", "", "Lot or batch.", { aliases: ["lot code", "batch"], maxLength: 60 }),
    s.date("expiresOn", "Expires on", "", "Last day of use of the lot.", {
      aliases: ["expiry", "expiry date", "best before"],
    }),
    s.text("drumSerial", "Drum", "D-2201", "Serial of a cable drum.", {
      aliases: ["drum serial", "drum number"],
      maxLength: 60,
    }),
    s.measure("receivedM", "Drum received", "m", "500", "Length of the drum as received.", {
      aliases: ["received", "drum length"],
      above: 0,
      max: 100_000,
    }),
    s.measure("remainingM", "Drum remaining", "m", "312.5", "What is left on the drum.", {
      aliases: ["remaining", "remaining length"],
      min: 0,
      max: 100_000,
    }),
    s.number("quantity", "Quantity", "", "In the item's unit. Blank on a drum row.", {
      required: true,
      aliases: ["qty", "on hand"],
      min: 0,
      max: 10_000_000,
    }),
  ],
  fold: foldDrum,
  unfold: (row) => (row.drumSerial === undefined ? { ...row } : { ...row, quantity: undefined }),
  check: checkStock,
};

/** On a drum row the remaining metres are the quantity. */
function foldDrum(cells: Cells): { values: Record<string, unknown>; faults: RowFault[] } {
  const values: Record<string, unknown> = { ...cells };
  if (cells.remainingM !== undefined && cells.quantity === undefined) values.quantity = cells.remainingM;
  return { values, faults: [] };
}

function checkStock(row: StockRow): RowFault[] {
  const faults: RowFault[] = [];
  const isDrum = row.drumSerial !== undefined;
  if (isDrum && row.remainingM === undefined) {
    faults.push({
      key: "remainingM",
      rule: "drum-without-remaining",
      ...sentences(phrase("A drum needs its remaining metres."), phrase("Fill in Drum remaining.")),
    });
  }
  if (!isDrum && (row.remainingM !== undefined || row.receivedM !== undefined)) {
    faults.push({
      key: "drumSerial",
      rule: "drum-without-serial",
      ...sentences(
        phrase("Drum lengths are given without a drum serial."),
        phrase("Fill in Drum, or clear the drum lengths and give the quantity."),
      ),
    });
  }
  if (isDrum && row.remainingM !== undefined && row.remainingM !== row.quantity) {
    faults.push({
      key: "quantity",
      rule: "drum-quantity-differs",
      value: row.quantity,
      ...sentences(
        phrase("The quantity is {{quantity}} and the drum has {{left}} m left.", {
          quantity: String(row.quantity),
          left: String(row.remainingM),
        }),
        phrase("Leave the quantity of a drum blank."),
      ),
    });
  }
  if (row.receivedM !== undefined && row.remainingM !== undefined && row.remainingM > row.receivedM) {
    faults.push({
      key: "remainingM",
      rule: "drum-longer-than-received",
      value: row.remainingM,
      ...sentences(
        phrase("The drum has {{left}} m left of {{received}} m received.", {
          left: String(row.remainingM),
          received: String(row.receivedM),
        }),
        phrase("Correct one of the two lengths."),
      ),
    });
  }
  for (const key of ["quantity", "receivedM", "remainingM"] as const)
    faults.push(...hundredthsFaults(key, row[key]));
  return faults;
}

/** The ledger counts whole hundredths of a unit, so that metres and pieces add up exactly. */
function hundredthsFaults(key: string, quantity: number | undefined): RowFault[] {
  if (quantity === undefined || Number(quantity.toFixed(2)) === quantity) return [];
  return [
    {
      key,
      rule: "finer-than-hundredths",
      value: quantity,
      ...sentences(
        phrase("Quantities are kept to two decimals."),
        phrase("Round it, e.g. to {{rounded}}.", { rounded: figure(quantity, 2) }),
      ),
    },
  ];
}

export const orders: ImportKind<"orders"> = {
  name: "orders",
  title: "Orders",
  description: "Lines of orders on their way.",
  key: ["orderCode", "lineNo"],
  agreements: [{ by: ["orderCode"], columns: ["placeCode", "supplier"] }],
  references: [
    { columns: ["itemCode"], kinds: ["items"] },
    { columns: ["placeCode"], kinds: ["places", "sites"] },
  ],
  columns: [
    o.text("orderCode", "Order", "PO-3301", "Number of the order.", {
      required: true,
      aliases: ["order code", "order number", "po", "purchase order"],
      maxLength: 60,
    }),
    o.integer("lineNo", "Line", "1", "Line of the order.", {
      aliases: ["order line", "line number"],
      min: 1,
      max: 100_000,
      default: 1,
    }),
    itemCode,
    o.number("quantity", "Quantity", "500", "Still to come, in the item's unit.", {
      required: true,
      aliases: ["qty", "open quantity"],
      above: 0,
      max: 10_000_000,
    }),
    o.date("dueOn", "Due on", "2027-02-10", "Date of receipt.", {
      required: true,
      aliases: ["due date", "delivery date", "eta"],
    }),
    placeCode,
    o.text("supplier", "Supplier", "", "Who delivers."),
    o.choice("owner", "Owner", "contractor", "Who will own it.", { choices: OWNERS, default: "contractor" }),
    o.money("priceMinor", "Unit price", "", "Price of one unit.", {
      aliases: ["price"],
      min: 0,
      max: 100_000_000_000,
    }),
    o.text("currency", "Currency", "", "ISO 4217 code.", { maxLength: 3 }),
  ],
  check(row): RowFault[] {
    const faults: RowFault[] = [
      ...currencyFaults(row.currency),
      ...hundredthsFaults("quantity", row.quantity),
    ];
    if (row.priceMinor !== undefined && row.currency === undefined) {
      faults.push({
        key: "currency",
        rule: "price-without-currency",
        ...sentences(phrase("A price needs its currency."), phrase("Fill in the currency, e.g. EUR.")),
      });
    }
    return faults;
  },
};
