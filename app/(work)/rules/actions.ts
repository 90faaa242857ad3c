"use server";

import {
  changeRoleAction,
  closeAccountAction,
  createAccountAction,
  endSessionsAction,
  liftRestAction,
  resetPasswordAction,
  resetSecondFactorAction,
} from "@/app/_server/accountEdits";
import { defineAction } from "@/app/_server/action";
import { setApprovalLimitAction } from "@/app/_server/approvalEdits";
import { keepBuyerAction } from "@/app/_server/buyer";
import {
  removeCertificateAction,
  removeLeaveAction,
  setCertificateAction,
  setLeaveAction,
} from "@/app/_server/crewEdits";
import { makeKeyAction, revokeKeyAction } from "@/app/_server/openInterface/keys";
import { saveRulesAction, showEffectAction } from "@/app/_server/ruleEdits";

const revalidate = ["/rules"];

export const showEffect = defineAction(showEffectAction);
export const saveRules = defineAction({ ...saveRulesAction, revalidate });
export const createAccount = defineAction({ ...createAccountAction, revalidate });
export const changeRole = defineAction({ ...changeRoleAction, revalidate });
export const closeAccount = defineAction({ ...closeAccountAction, revalidate });
export const resetPassword = defineAction({ ...resetPasswordAction, revalidate });
export const resetSecondFactor = defineAction({ ...resetSecondFactorAction, revalidate });
export const endSessionsOf = defineAction({ ...endSessionsAction, revalidate });
export const liftRest = defineAction({ ...liftRestAction, revalidate });
export const setCertificate = defineAction({ ...setCertificateAction, revalidate });
export const removeCertificate = defineAction({ ...removeCertificateAction, revalidate });
export const keepBuyer = defineAction({ ...keepBuyerAction, revalidate });
export const setApprovalLimit = defineAction({ ...setApprovalLimitAction, revalidate });
export const setLeave = defineAction({ ...setLeaveAction, revalidate });
export const removeLeave = defineAction({ ...removeLeaveAction, revalidate });
export const makeInterfaceKey = defineAction({ ...makeKeyAction, revalidate });
export const revokeInterfaceKey = defineAction({ ...revokeKeyAction, revalidate });
