import { phrase } from "@/lib/phrase";
import { sentences } from "@/lib/result";
import { ITEM_CATEGORIES, UNITS } from "@/lib/site";
import { LOT_RULES } from "@/lib/stock";
import { columnsOf } from "../columns";
import type { ItemRow } from "../rows";
import type { ImportKind } from "../types";
import { OWNERS } from "./ends";

const c = columnsOf<ItemRow>();

export const items: ImportKind<"items"> = {
  name: "items",
  title: "Items",
  description:
    "The catalogue: what can be ordered, stored and taken off, with the attributes that rules look for.",
  key: ["code"],
  references: [],
  columns: [
    c.text("code", "Item", "CX-400", "Catalogue code.", {
      required: true,
      aliases: ["item code", "code", "part number", "article"],
      maxLength: 60,
    }),
    c.text("name", "Name", "IF coaxial cable 10 mm", "Name on lists.", {
      required: true,
      aliases: ["item name", "description"],
    }),
    c.choice("category", "Category", "IF cable", "What kind of thing it is.", {
      required: true,
      choices: ITEM_CATEGORIES,
    }),
    c.choice("unit", "Unit", "m", "Unit in which it is counted.", {
      required: true,
      aliases: ["uom", "unit of measure"],
      choices: UNITS,
      choiceAliases: {
        pcs: "piece",
        pc: "piece",
        pieces: "piece",
        ea: "piece",
        each: "piece",
        metre: "m",
        metres: "m",
        rolls: "roll",
      },
    }),
    c.measure("massKg", "Mass", "kg", "0.14", "Mass of one unit.", {
      aliases: ["weight"],
      min: 0,
      max: 5000,
      default: 0,
    }),
    c.measure("volumeL", "Volume", "L", "0.1", "Packed volume of one unit.", {
      min: 0,
      max: 50_000,
      default: 0,
    }),
    c.choice("owner", "Owner", "contractor", "Who normally owns it.", {
      choices: OWNERS,
      default: "contractor",
    }),
    c.count("leadTimeDays", "Lead time", "days", "28", "Calendar days from order to receipt.", {
      aliases: ["lead time days", "delivery time"],
      min: 0,
      max: 1000,
      default: 0,
    }),
    c.choice("lotRule", "Lot rule", "minimum", "How much is ordered at a time.", {
      aliases: ["lot sizing"],
      choices: LOT_RULES,
      default: "minimum",
    }),
    c.number(
      "orderMultiple",
      "Order multiple",
      "500",
      "Orders are a multiple of this. Cable: the drum length in m.",
      {
        aliases: ["multiple", "drum length", "pack size"],
        above: 0,
        max: 1_000_000,
        default: 1,
      },
    ),
    c.number("minimumOrder", "Minimum order", "500", "Smallest order.", {
      aliases: ["moq", "minimum order quantity"],
      min: 0,
      max: 1_000_000,
      default: 0,
    }),
    c.number("safetyStock", "Safety stock", "100", "Quantity kept back.", {
      min: 0,
      max: 1_000_000,
      default: 0,
    }),
    c.money("priceMinor", "Unit price", "1.35", "Price of one unit in the currency of the row.", {
      aliases: ["price"],
      min: 0,
      max: 100_000_000_000,
      default: 0,
    }),
    c.text("currency", "Currency", "EUR", "ISO 4217 code.", { maxLength: 3, default: "EUR" }),
    c.count("shelfLifeDays", "Shelf life", "days", "", "Days from receipt to expiry.", {
      above: 0,
      max: 10_000,
    }),
    c.measure("bandGhz", "Band", "GHz", "", "Radios, antennas, couplers: frequency band.", {
      above: 0,
      max: 200,
    }),
    c.text("subBand", "Sub-band", "", "Radios.", { aliases: ["subband", "sub band"], maxLength: 40 }),
    c.measure("duplexSpacingMhz", "Duplex spacing", "MHz", "", "Radios.", { above: 0, max: 20_000 }),
    c.choice("half", "Transmit half", "", "Radios: high or low.", {
      aliases: ["half"],
      choices: ["high", "low"],
      choiceAliases: { hi: "high", lo: "low" },
    }),
    c.measure("diameterM", "Antenna diameter", "m", "", "Antennas.", {
      aliases: ["diameter"],
      min: 0.1,
      max: 5,
    }),
    c.choice("factoryPolarisation", "Polarisation as delivered", "", "Antennas and couplers: V or H.", {
      aliases: ["factory polarisation"],
      choices: ["V", "H"],
    }),
    c.choice("split", "Split", "", "Couplers: equal or unequal.", { choices: ["equal", "unequal"] }),
    c.measure("mainLossDb", "Main port loss", "dB", "", "Couplers.", {
      aliases: ["main loss"],
      min: 0,
      max: 60,
    }),
    c.measure("standbyLossDb", "Standby port loss", "dB", "", "Couplers.", {
      aliases: ["standby loss"],
      min: 0,
      max: 60,
    }),
    c.measure(
      "cableDiameterMm",
      "Cable diameter",
      "mm",
      "10.3",
      "Cables: outer diameter. Fittings: the cable they fit.",
      {
        above: 0,
        max: 100,
      },
    ),
    c.number("k1", "Loss k1", "0.21", "IF cable: loss k1 sqrt(f) + k2 f, dB per 100 m, f in MHz.", {
      aliases: ["k1"],
      min: 0,
      max: 100,
    }),
    c.number("k2", "Loss k2", "0.0006", "IF cable: see k1.", { aliases: ["k2"], min: 0, max: 100 }),
    c.measure("loopOhmPer100M", "Loop resistance", "ohm/100 m", "0.9", "IF cable: DC loop at 20 degC.", {
      min: 0,
      max: 1000,
    }),
    c.measure("minBendRadiusMm", "Bend radius", "mm", "50", "Cables: smallest.", {
      aliases: ["minimum bend radius"],
      above: 0,
      max: 5000,
    }),
    c.measure("maxPullN", "Largest pull", "N", "400", "Cables: tensile limit.", {
      aliases: ["maximum pull"],
      above: 0,
      max: 100_000,
    }),
    c.measure("massKgPerM", "Mass per metre", "kg/m", "0.14", "Cables.", { min: 0, max: 100 }),
    c.measure("tapeWidthMm", "Tape width", "mm", "", "Tapes.", { above: 0, max: 1000 }),
    c.measure("tapeThicknessMm", "Tape thickness", "mm", "", "Tapes.", { above: 0, max: 20 }),
    c.measure("rollLengthM", "Roll length", "m", "", "Tapes.", { above: 0, max: 1000 }),
    c.measure("tapeMinTempC", "Tape from", "degC", "", "Tapes: lowest temperature of use.", {
      aliases: ["tape minimum temperature"],
      min: -60,
      max: 60,
    }),
    c.measure("powerW", "Power", "W", "", "Radios: power drawn.", { above: 0, max: 5000 }),
    c.measure("minVoltageV", "Lowest voltage", "V", "", "Radios: lowest working voltage at the input.", {
      aliases: ["minimum voltage"],
      above: 0,
      max: 100,
    }),
    c.measure("ifLowMhz", "IF low", "MHz", "", "Radios: lower intermediate frequency.", {
      above: 0,
      max: 10_000,
    }),
    c.measure("ifHighMhz", "IF high", "MHz", "", "Radios: higher intermediate frequency.", {
      above: 0,
      max: 10_000,
    }),
    c.measure("maxIfLossDb", "Largest IF loss", "dB", "", "Radios: cable loss limit between IDU and ODU.", {
      aliases: ["maximum if loss"],
      above: 0,
      max: 100,
    }),
    c.measure("crossSectionMm2", "Cross-section", "mm2", "", "Earthing leads and power cable: conductor.", {
      aliases: ["cross section"],
      above: 0,
      max: 1000,
    }),
    c.yesNo(
      "polarisationPartInBox",
      "Polarisation part in box",
      "",
      "Couplers: does the part for the other polarisation come along? Blank = yes.",
    ),
    c.integer("maxBends", "Most bends", "", "IF cable: most bends that one run may have.", {
      aliases: ["maximum bends"],
      min: 0,
      max: 100,
    }),
    c.measure(
      "wrapDiameterMm",
      "Wrap diameter",
      "mm",
      "",
      "Connectors and earthing kits: where a wrap starts.",
      {
        above: 0,
        max: 500,
      },
    ),
    c.measure("contentG", "Content", "g", "", "Tubes and cans: what they hold.", {
      aliases: ["content"],
      above: 0,
      max: 100_000,
    }),
  ],
  check: (row) => currencyFaults(row.currency),
};

/** Faults of a currency code; none when it is absent. */
export function currencyFaults(currency: string | undefined) {
  return currency === undefined || /^[A-Z]{3}$/.test(currency)
    ? []
    : [
        {
          key: "currency",
          rule: "currency-unknown",
          value: currency,
          ...sentences(
            phrase('"{{currency}}" is not a currency code.', { currency }),
            phrase("Write three capital letters such as EUR."),
          ),
        },
      ];
}
