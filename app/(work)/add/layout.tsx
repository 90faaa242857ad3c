import type { ReactNode } from "react";
import { AreaWords } from "@/app/_ui/language/AreaWords";

export default function Layout({ children }: { children: ReactNode }) {
  return <AreaWords area="design">{children}</AreaWords>;
}
