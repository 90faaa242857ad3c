"use client";

import { AgainLine } from "@/app/_client/AgainLine";
import { assess } from "./actions";

export interface AssessLineProps {
  words: string;
  activeJobId: string | null;
  isFirst: boolean;
}

/** When the plan was run through hours and weather; watches a run of it that is under way. */
export function AssessLine({ isFirst, ...props }: AssessLineProps) {
  return (
    <AgainLine
      {...props}
      busyWords="Running the plan through hours and weather ..."
      failedWords="The plan could not be run"
      doWords={isFirst ? "Work it out" : "Work it out again"}
      start={assess}
    />
  );
}
