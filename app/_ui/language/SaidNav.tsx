"use client";

import type { ReactNode } from "react";
import { useWords } from "./LanguageProvider";

interface SaidProps {
  /** Spoken name: English, said in the reader's language. */
  label: string;
  className: string;
  children: ReactNode;
}

/** Links whose spoken name is in the reader's language, for parts that know of no language. */
export function SaidNav({ label, className, children }: SaidProps) {
  return (
    <nav className={className} aria-label={useWords().t(label)}>
      {children}
    </nav>
  );
}

export function SaidAside({ label, className, children }: SaidProps) {
  return (
    <aside className={className} aria-label={useWords().t(label)}>
      {children}
    </aside>
  );
}
