/** The metre-for-metre account of a cutting plan. */
import type { CuttingPlan } from "./types";

/** All in whole cm. `receivedCm` is the sum of the other seven. */
export interface MetreAccount {
  /** On hand, on order and to buy, as received. */
  receivedCm: number;
  /** Used before this plan. */
  usedBeforeCm: number;
  cutCm: number;
  allowanceCm: number;
  remnantCm: number;
  scrapCm: number;
  /** On drums that the plan does not touch. */
  untouchedCm: number;
}

/**
 * Adds up every drum: used before + cuts + saw allowances + left = received, exactly.
 *
 * @throws Error naming the drum when it does not: such a plan is wrong and must not be shown
 */
export function accountOf(plan: CuttingPlan): MetreAccount {
  const account: MetreAccount = {
    receivedCm: 0,
    usedBeforeCm: 0,
    cutCm: 0,
    allowanceCm: 0,
    remnantCm: 0,
    scrapCm: 0,
    untouchedCm: 0,
  };
  for (const { drum, cuts, allowanceCm, leftCm, leftIs } of plan.drums) {
    const cutCm = cuts.reduce((sum, cut) => sum + cut.lengthCm, 0);
    const usedBeforeCm = drum.receivedCm - drum.remainingCm;
    const figures = [drum.receivedCm, usedBeforeCm, cutCm, allowanceCm, leftCm];
    if (!figures.every((cm) => Number.isSafeInteger(cm) && cm >= 0)) {
      throw new Error(
        `drum ${drum.serial}: a length is not a whole number of cm >= 0: ${figures.join(", ")} cm`,
      );
    }
    const accounted = usedBeforeCm + cutCm + allowanceCm + leftCm;
    if (accounted !== drum.receivedCm) {
      throw new Error(`drum ${drum.serial}: received ${drum.receivedCm} cm, accounted for ${accounted} cm`);
    }
    account.receivedCm += drum.receivedCm;
    account.usedBeforeCm += usedBeforeCm;
    account.cutCm += cutCm;
    account.allowanceCm += allowanceCm;
    if (leftIs === "scrap") account.scrapCm += leftCm;
    else if (leftIs === "untouched") account.untouchedCm += leftCm;
    else account.remnantCm += leftCm;
  }
  for (const key of ["cutCm", "allowanceCm", "scrapCm", "remnantCm"] as const) {
    if (account[key] !== plan[key]) {
      throw new Error(
        `cable ${plan.cableCode}: ${key} of the plan is ${plan[key]}, of its drums ${account[key]}`,
      );
    }
  }
  return account;
}
