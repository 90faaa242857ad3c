import type { ReactNode } from "react";
import type { Kept } from "@/app/_client/useKept";
import { TakenUp } from "./TakenUp";

export interface RecordFormProps {
  kept: Pick<Kept<unknown>, "isTakenUp" | "startAnew">;
  onSave: () => void;
  children: ReactNode;
}

/** The form of a record: says what it took up from an earlier visit, and leaves all checks to the server. */
export function RecordForm({ kept, onSave, children }: RecordFormProps) {
  return (
    <form
      className="grid gap-4"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        onSave();
      }}
    >
      {kept.isTakenUp ? <TakenUp onStartAnew={kept.startAnew} /> : null}
      {children}
    </form>
  );
}
