/** Making a check: what it found, where, the figure against its limit, and what to do. */
import type { CheckState, DesignCheck } from "./types";

export type Finding = Pick<DesignCheck, "message" | "remedy" | "figure" | "limit" | "unit">;

const verdict =
  (state: CheckState) =>
  (rule: string, where: string, finding: Finding): DesignCheck => ({
    rule,
    state,
    where,
    ...finding,
  });

export const pass = verdict("pass");
/** The take-off goes on and says so; a person should look. */
export const warn = verdict("warn");
/** The end must not be planned before this is put right. */
export const fail = verdict("fail");
