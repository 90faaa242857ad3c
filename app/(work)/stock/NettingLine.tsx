"use client";

import { AgainLine } from "@/app/_client/AgainLine";
import { net } from "./actions";

export interface NettingLineProps {
  /** "Netted for Mon 16 Mar 2026, 4 minutes ago". */
  words: string;
  activeJobId: string | null;
}

/** When needs were netted against stock; watches a netting that runs. */
export function NettingLine(props: NettingLineProps) {
  return (
    <AgainLine
      {...props}
      busyWords="Netting needs against stock ..."
      failedWords="The netting failed"
      doWords="Net again"
      start={net}
    />
  );
}
