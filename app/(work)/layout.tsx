import type { ReactNode } from "react";
import { requireRoleInRegions } from "@/app/_server/session";
import { Frame } from "./Frame";

/** The frame of every page behind the sign-in. Each page checks its own roles. */
export default async function WorkLayout({ children }: { children: ReactNode }) {
  return <Frame visitor={await requireRoleInRegions()}>{children}</Frame>;
}
