"use server";

import { defineAction } from "@/app/_server/action";
import { rejectUseAction } from "@/app/_server/useEdits";

export const rejectUse = defineAction({ ...rejectUseAction, revalidate: ["/programme/use"] });
