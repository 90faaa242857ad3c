"use client";

import { useRef, useState } from "react";
import { newKey } from "@/app/_client/newKey";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { Check, NumberInput, Select, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Panel } from "@/app/_ui/Panel";
import { ProblemList } from "@/app/_ui/ProblemList";
import type { OutRow } from "@/db/queries/kitOut";
import { giveBack, undoIssue } from "../actions";

export interface ReturnPanelProps {
  visitId: string;
  rows: readonly OutRow[];
  warehouses: readonly { code: string; name: string }[];
  toPlace: string;
  /** Nothing was used or returned yet: the whole issue may be taken back. */
  mayUndo: boolean;
}

const nameOf = (r: OutRow): string => `${r.itemCode} ${r.lotCode}`;

/** Unused material comes back onto the shelf; a wrong issue is taken back whole. */
export function ReturnPanel({ visitId, rows, warehouses, toPlace, mayUndo }: ReturnPanelProps) {
  const { t, amount } = useWords();
  const [to, setTo] = useState(toPlace);
  const [quantities, setQuantities] = useState<Readonly<Record<string, string>>>({});
  const [open, setOpen] = useState(false);
  const [reason, setReason] = useState("");
  // Begins with what the crew said it has left over: that is what comes back.
  const typed = (r: OutRow) => quantities[nameOf(r)] ?? (r.leftC ? String(r.leftC / 100) : "");
  const [cameBack, setCameBack] = useState<Readonly<Record<string, boolean>>>({});
  const key = useRef(newKey());
  const back = useSend(giveBack);
  const undo = useSend(undoIssue);
  return (
    <Panel
      title={t("Return unused")}
      note={t("What comes back to the shelf. Cut runs do not go back onto a drum.")}
      actions={
        mayUndo ? <Button onClick={() => setOpen(true)}>{t("Take the issue back")}</Button> : undefined
      }
    >
      {rows.length === 0 ? (
        <p>{t("Nothing of the kit is out any more: all was used or has come back.")}</p>
      ) : (
        <form
          className="ui-form"
          onSubmit={(e) => {
            e.preventDefault();
            back.send(
              {
                visitId,
                toPlace: to,
                key: key.current,
                lines: rows.map((r) => ({
                  itemCode: r.itemCode,
                  lotCode: r.lotCode,
                  owner: r.owner,
                  quantity: Number(typed(r) || 0),
                  serials: r.serials.filter((s) => cameBack[s]),
                })),
              },
              ({ rows: n }) => {
                key.current = newKey();
                setQuantities({});
                setCameBack({});
                return t("{{count}} lines returned to {{to}}", { count: n, to });
              },
            );
          }}
        >
          <Select
            label={t("Back to")}
            name="to"
            value={to}
            onChange={(e) => setTo(e.target.value)}
            choices={warehouses.map((w) => ({ value: w.code, label: `${w.code} ${w.name}` }))}
          />
          <div className="ui-form-row">
            {rows.map((r) => (
              <NumberInput
                key={nameOf(r)}
                name={r.itemCode}
                label={
                  r.lotCode
                    ? t("{{item}}, lot {{lot}}", { item: `${r.itemCode} ${r.name}`, lot: r.lotCode })
                    : `${r.itemCode} ${r.name}`
                }
                unit={t(r.unit)}
                min={0}
                max={r.backC / 100}
                step={r.unit === "m" ? 0.01 : 1}
                hint={
                  r.leftC
                    ? t("{{quantity}} out; {{left}} left over by the crew's report.", {
                        quantity: amount(r.backC / 100, r.unit),
                        left: amount(r.leftC / 100, r.unit),
                      })
                    : t("{{quantity}} out.", { quantity: amount(r.backC / 100, r.unit) })
                }
                value={typed(r)}
                onChange={(e) => setQuantities({ ...quantities, [nameOf(r)]: e.target.value })}
              />
            ))}
          </div>
          {rows
            .filter((r) => r.serials.length > 0 && r.serials.length * 100 <= r.outC)
            .map((r) => (
              <fieldset key={nameOf(r)} className="flex flex-wrap gap-x-4 gap-y-1">
                <legend>{t("Serials of {{item}} that come back", { item: r.itemCode })}</legend>
                {r.serials.map((s) => (
                  <Check
                    key={s}
                    label={s}
                    name={`back ${s}`}
                    checked={cameBack[s] ?? false}
                    onChange={(e) => setCameBack({ ...cameBack, [s]: e.target.checked })}
                  />
                ))}
              </fieldset>
            ))}
          <ProblemList problems={back.problems} />
          <div className="ui-form-actions">
            <Button kind="primary" type="submit" busy={back.busy}>
              {t("Return to the shelf")}
            </Button>
          </div>
        </form>
      )}
      <Dialog open={open} onClose={() => setOpen(false)} title={t("Take the whole issue back?")}>
        <form
          className="ui-form"
          onSubmit={(e) => {
            e.preventDefault();
            undo.send({ visitId, reason }, ({ rows: n }) => {
              setOpen(false);
              return t("Issue taken back: {{count}} rows", { count: n });
            });
          }}
        >
          <p>
            {t(
              "Every row of the issue gets its reversal; the kit stands picked again and can be issued anew.",
            )}
          </p>
          <TextInput
            label={t("Why")}
            required
            minLength={3}
            autoFocus
            value={reason}
            onChange={(e) => setReason(e.target.value)}
          />
          <ProblemList problems={undo.problems} />
          <div className="ui-form-actions justify-end">
            <Button onClick={() => setOpen(false)}>{t("Keep it issued")}</Button>
            <Button kind="danger" type="submit" busy={undo.busy}>
              {t("Take it back")}
            </Button>
          </div>
        </form>
      </Dialog>
    </Panel>
  );
}
