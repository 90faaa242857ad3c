import type { Words } from "./words";

/** `H-012/near/install` -> `H-012 near`. */
export function visitName(visitId: string, t: Words["t"]): string {
  const [hopCode, side] = visitId.split("/");
  return side ? `${hopCode} ${t(side)}` : visitId;
}
