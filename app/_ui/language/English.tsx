import type { ReactNode } from "react";

/** What lib or the data say in English only, marked so that a screen reader speaks it right on a page in another language. */
export const English = ({ children }: { children: ReactNode }) => <span lang="en">{children}</span>;
