"use client";

import { useState } from "react";
import { newKey } from "@/app/_client/newKey";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { DialogForm } from "@/app/_ui/DialogForm";
import { DateInput, Select, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { ProblemList } from "@/app/_ui/ProblemList";
import type { EndSide } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";
import { hang, takeDown } from "./hungActions";
import { TAKEN_DOWN_WORDS } from "./takenDown";

export interface HangFormProps {
  hopCode: string;
  side: EndSide;
  /** Radios of the end's design. */
  positions: readonly { label: string; role: string }[];
  today: CalendarDate;
}

/** Records a serial at the desk: from a hand-over, a photo of the label, or the maker's record. */
export function HangForm({ hopCode, side, positions, today }: HangFormProps) {
  const { t } = useWords();
  const [key, setKey] = useState(newKey);
  const [oduLabel, setLabel] = useState(positions[0]?.label ?? "");
  const [serial, setSerial] = useState("");
  const [on, setOn] = useState<string>(today);
  const { send, busy, problems } = useSend(hang);
  return (
    <form
      className="ui-form"
      onSubmit={(event) => {
        event.preventDefault();
        send({ key, hopCode, side, oduLabel, serial, on: on as CalendarDate }, () => {
          setKey(newKey());
          setSerial("");
          return t("{{serial}} hangs at {{position}}", { serial, position: oduLabel });
        });
      }}
    >
      <div className="ui-form-row items-end">
        <Select
          label={t("Which radio")}
          value={oduLabel}
          onChange={(event) => setLabel(event.target.value)}
          choices={positions.map((p) => ({ value: p.label, label: `${p.label}, ${t(p.role)}` }))}
        />
        <TextInput
          label={t("Serial on its label")}
          required
          maxLength={60}
          value={serial}
          onChange={(event) => setSerial(event.target.value)}
        />
        <DateInput
          label={t("Hangs since")}
          required
          max={today}
          value={on}
          onChange={(event) => setOn(event.target.value)}
        />
        <div className="ui-form-actions">
          <Button type="submit" busy={busy}>
            {t("Record the serial")}
          </Button>
        </div>
      </div>
      <ProblemList problems={problems} />
    </form>
  );
}

const WHYS = ["exchanged", "moved", "written wrong"] as const;

export interface TakeDownProps {
  unit: { id: number; hopCode: string; serial: string; hungOn: CalendarDate };
  today: CalendarDate;
}

/** Ends a record; a faulty radio is recorded under faulty pieces instead, which ends it too. */
export function TakeDownButton({ unit, today }: TakeDownProps) {
  const { t } = useWords();
  const [open, setOpen] = useState(false);
  const { send, busy, problems } = useSend(takeDown);
  const close = () => setOpen(false);
  return (
    <>
      <Button size="small" onClick={() => setOpen(true)}>
        {t("Take {{serial}} down", { serial: unit.serial })}
      </Button>
      <Dialog
        open={open}
        onClose={close}
        title={t("{{serial}} does not hang there any more", { serial: unit.serial })}
      >
        <DialogForm
          problems={problems}
          busy={busy}
          words={t("It is down")}
          onClose={close}
          onSend={(form) =>
            send(
              {
                id: unit.id,
                hopCode: unit.hopCode,
                on: String(form.get("on")) as CalendarDate,
                why: WHYS.find((w) => w === form.get("why")) ?? "moved",
              },
              ({ serial }) => {
                close();
                return t("{{serial}} is taken down", { serial });
              },
            )
          }
        >
          <Select
            label={t("Why")}
            name="why"
            defaultValue="moved"
            choices={WHYS.map((w) => ({ value: w, label: t(TAKEN_DOWN_WORDS[w]) }))}
          />
          <DateInput
            label={t("Taken down on")}
            name="on"
            required
            min={unit.hungOn}
            max={today}
            defaultValue={today}
          />
        </DialogForm>
      </Dialog>
    </>
  );
}
