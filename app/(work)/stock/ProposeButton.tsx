"use client";

import { useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { Disclosure } from "@/app/_ui/Disclosure";
import { Check } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { ProblemList } from "@/app/_ui/ProblemList";
import { propose } from "./actions";

/** A line to choose, in words. */
export interface ProposeLine {
  itemCode: string;
  placeCode: string;
  isDue: boolean;
  words: string;
}

const keyOf = (l: ProposeLine) => JSON.stringify([l.isDue, l.itemCode, l.placeCode]);

/** Asks which lines become proposed orders: all that is due is chosen, what comes later may be. */
export function ProposeButton({ lines }: { lines: readonly ProposeLine[] }) {
  const { t } = useWords();
  const [open, setOpen] = useState(false);
  const due = lines.filter((l) => l.isDue);
  return (
    <>
      <Button kind={due.length > 0 ? "primary" : "quiet"} onClick={() => setOpen(true)}>
        {due.length > 0
          ? t("Propose orders for {{count}} lines", { count: due.length })
          : t("Order some of it now")}
      </Button>
      <Dialog open={open} onClose={() => setOpen(false)} title={t("What to propose")} wide>
        {open ? <Choice lines={lines} onDone={() => setOpen(false)} /> : null}
      </Dialog>
    </>
  );
}

function Choice({ lines, onDone }: { lines: readonly ProposeLine[]; onDone: () => void }) {
  const { t } = useWords();
  const { send, busy, problems } = useSend(propose);
  const [chosen, setChosen] = useState<ReadonlySet<string>>(
    () => new Set(lines.filter((l) => l.isDue).map(keyOf)),
  );
  const toggle = (key: string) => {
    const next = new Set(chosen);
    if (!next.delete(key)) next.add(key);
    setChosen(next);
  };
  const list = (some: readonly ProposeLine[]) =>
    some.map((l) => (
      <Check
        key={keyOf(l)}
        label={l.words}
        checked={chosen.has(keyOf(l))}
        onChange={() => toggle(keyOf(l))}
      />
    ));
  const due = lines.filter((l) => l.isDue);
  const later = lines.filter((l) => !l.isDue);

  function submit(): void {
    const picked = lines.filter((l) => chosen.has(keyOf(l)));
    const isLater = new Set(picked.filter((l) => !l.isDue).map((l) => `${l.itemCode} ${l.placeCode}`));
    send(
      {
        chosen: picked.map(({ itemCode, placeCode }) => ({
          itemCode,
          placeCode,
          withLater: isLater.has(`${itemCode} ${placeCode}`),
        })),
      },
      (codes) => {
        onDone();
        return codes.length === 0
          ? t("Everything due is on proposed orders already")
          : t("Proposed {{count}} orders: {{what}}", { count: codes.length, what: codes.join(", ") });
      },
    );
  }

  return (
    <form
      className="ui-form"
      onSubmit={(e) => {
        e.preventDefault();
        submit();
      }}
    >
      <p>{t("One proposed order per supplier and warehouse. Approved by the manager, then sent.")}</p>
      {due.length > 0 ? (
        <fieldset className="ui-fieldset">
          <legend>{t("Due today")}</legend>
          {list(due)}
        </fieldset>
      ) : null}
      {later.length > 0 ? (
        <Disclosure
          summary={t("Comes up later: {{count}} lines, ordered early if you choose them", {
            count: later.length,
          })}
          open={due.length === 0}
        >
          <p>{t("All that the plan wants of it later is ordered at once; of what is due too, with it.")}</p>
          {list(later)}
        </Disclosure>
      ) : null}
      <ProblemList problems={problems} />
      <div className="ui-form-actions justify-end">
        <Button onClick={onDone}>{t("Leave as it is")}</Button>
        <Button kind="primary" type="submit" busy={busy} disabled={chosen.size === 0}>
          {t("Propose {{count}} lines", { count: chosen.size })}
        </Button>
      </div>
    </form>
  );
}
