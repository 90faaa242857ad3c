/** Decimals of currencies, for prices that people write in whole units and the catalogue keeps in minor ones. */
const known = new Map<string, number>();

/** 2 for EUR, 0 for JPY, 3 for KWD; 2 when the code is not known. */
export function currencyDigits(currency: unknown): number {
  if (typeof currency !== "string" || !/^[A-Z]{3}$/.test(currency)) return 2;
  let digits = known.get(currency);
  if (digits === undefined) {
    digits =
      new Intl.NumberFormat("en", { style: "currency", currency }).resolvedOptions().maximumFractionDigits ??
      2;
    known.set(currency, digits);
  }
  return digits;
}
