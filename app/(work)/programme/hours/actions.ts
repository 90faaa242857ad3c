"use server";

import { defineAction } from "@/app/_server/action";
import { rejectProposalsAction } from "@/app/_server/calibrationEdits";

export const rejectProposals = defineAction({ ...rejectProposalsAction, revalidate: ["/programme/hours"] });
