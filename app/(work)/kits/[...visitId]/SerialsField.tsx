"use client";

import { useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { ProblemList } from "@/app/_ui/ProblemList";
import type { KitLineView } from "@/db/queries/kitView";
import { serialsTyped } from "@/lib/stock";
import { readSerials } from "../actions";

/** Which pieces of a line lie in the box, for whoever reads their labels; nobody has to. */
export function SerialsField({ visitId, line }: { visitId: string; line: KitLineView }) {
  const { t } = useWords();
  const kept = line.serials.join(", ");
  const [text, setText] = useState(kept);
  const { send, busy, problems } = useSend(readSerials);
  return (
    <form
      className="flex flex-wrap items-end gap-3"
      onSubmit={(e) => {
        e.preventDefault();
        const serials = serialsTyped(text);
        send({ visitId, lineNo: line.lineNo, serials }, () => {
          setText(serials.join(", "));
          return t("{{count}} serials kept", { count: serials.length });
        });
      }}
    >
      <TextInput
        label={t("Serials of {{item}}", { item: line.itemCode })}
        name={`serials ${line.lineNo}`}
        maxLength={2000}
        value={text}
        hint={t("From the labels, with commas between; empty = not read.")}
        onChange={(e) => setText(e.target.value)}
      />
      <Button
        type="submit"
        size="small"
        busy={busy}
        disabled={serialsTyped(text).join() === serialsTyped(kept).join()}
      >
        {t("Keep serials")}
      </Button>
      <ProblemList problems={problems} />
    </form>
  );
}
