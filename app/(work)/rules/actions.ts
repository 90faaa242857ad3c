"use server";

import {
  changeRoleAction,
  closeAccountAction,
  createAccountAction,
  removeCertificateAction,
  removeLeaveAction,
  setCertificateAction,
  setLeaveAction,
  setPasswordAction,
} from "@/app/_server/accountEdits";
import { defineAction } from "@/app/_server/action";
import { saveRulesAction, showEffectAction } from "@/app/_server/ruleEdits";

const revalidate = ["/rules"];

export const showEffect = defineAction(showEffectAction);
export const saveRules = defineAction({ ...saveRulesAction, revalidate });
export const createAccount = defineAction({ ...createAccountAction, revalidate });
export const changeRole = defineAction({ ...changeRoleAction, revalidate });
export const closeAccount = defineAction({ ...closeAccountAction, revalidate });
export const setPassword = defineAction({ ...setPasswordAction, revalidate });
export const setCertificate = defineAction({ ...setCertificateAction, revalidate });
export const removeCertificate = defineAction({ ...removeCertificateAction, revalidate });
export const setLeave = defineAction({ ...setLeaveAction, revalidate });
export const removeLeave = defineAction({ ...removeLeaveAction, revalidate });
