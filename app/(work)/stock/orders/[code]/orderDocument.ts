import type { TableDocument } from "@/app/_server/tableDocument";
import { formatDate, formatInstant, formatMoney } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import type { OrderView } from "@/db/queries/orderViews";
import type { Buyer } from "@/db/queries/settings";
import { costOf } from "@/lib/stock";
import { supplierWords } from "../../supplierWords";
import { amountC, moneyWords } from "../../words";

/** One line of what is written on several. */
const lines = (...parts: string[]): string =>
  parts
    .flatMap((part) => part.split(/\r?\n/))
    .map((line) => line.trim())
    .filter(Boolean)
    .join(", ");

/**
 * What a supplier, or a customer who is asked for his material, is handed: the lines with quantity and day, and of a
 * purchase the prices. What has come so far is our own business and left out.
 *
 * @param zone in which the clock of `now` is read
 * @param buyer who orders, when an administrator has written it
 */
export function orderDocument(
  order: OrderView,
  words: Words,
  zone: string,
  now: number,
  buyer?: Buyer,
): TableDocument {
  const { t, locale } = words;
  const isPurchase = order.kind === "purchase";
  const values = { order: order.code };
  const shares = isPurchase ? [0.07, 0.31, 0.13, 0.19, 0.15, 0.15] : [0.08, 0.52, 0.2, 0.2];
  const heads = [
    t("Line"),
    t("Item"),
    t("Ordered"),
    t("Due"),
    ...(isPurchase ? [t("Price"), t("Cost")] : []),
  ];
  const isCatalogue = isPurchase && order.lines.some((l) => !l.isPriceAgreed);
  return {
    title: isPurchase ? t("Purchase order {{order}}", values) : t("Call-off {{order}}", values),
    locale: words.language,
    facts: [
      ...(buyer
        ? [
            { label: t("Ordered by"), value: lines(buyer.name, buyer.address) },
            ...(buyer.contact ? [{ label: t("Contact"), value: buyer.contact }] : []),
          ]
        : []),
      { label: t("Supplier"), value: supplierWords(order.supplier, t) },
      { label: t("Deliver to"), value: `${order.placeName} (${order.placeCode})` },
      { label: t("State"), value: t(order.state) },
      ...(order.sentOn ? [{ label: t("Sent on"), value: formatDate(order.sentOn, "full", locale) }] : []),
      {
        label: t("Made by"),
        value: `${order.createdBy}, ${formatInstant(order.createdAt, zone, locale)}`,
      },
      ...(order.note ? [{ label: t("Note"), value: order.note }] : []),
    ],
    columns: heads.map((head, i) => ({
      head,
      share: shares[i]!,
      align: i === 2 || i > 3 ? "right" : "left",
    })),
    rows: order.lines.map((l) => [
      String(l.lineNo),
      `${l.itemCode}\n${l.name}`,
      amountC(l.quantityC, l.unit, words),
      formatDate(l.dueOn, "full", locale),
      ...(isPurchase
        ? [
            `${formatMoney(l.priceMinor, l.currency, locale)}${l.isPriceAgreed ? "" : " *"}`,
            formatMoney(costOf(l), l.currency, locale),
          ]
        : []),
    ]),
    sums: isPurchase
      ? [
          `${t("In all")} ${moneyWords(
            order.lines.map((l) => ({ minor: costOf(l), currency: l.currency })),
            words,
          )}`,
        ]
      : [],
    notes: [
      ...(isCatalogue ? [t("* catalogue price: none is agreed")] : []),
      ...(isPurchase ? [] : [t("The customer's own material: no price.")]),
      ...(order.state === "proposed" || order.state === "approved"
        ? [t("Not sent: this is a draft and orders nothing.")]
        : []),
    ],
    pageWords: (page, pages) => t("Page {{page}} of {{pages}}", { page, pages }),
    foot: `${order.code}, ${formatInstant(now, zone, locale)}`,
    madeAt: now,
  };
}
