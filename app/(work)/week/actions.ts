"use server";

import { defineAction } from "@/app/_server/action";
import { makeCalendarAction, revokeCalendarAction } from "@/app/_server/crewCalendar";

export const makeCalendar = defineAction({ ...makeCalendarAction, revalidate: ["/week"] });
export const revokeCalendar = defineAction({ ...revokeCalendarAction, revalidate: ["/week"] });
