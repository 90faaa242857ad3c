"use client";

import { useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { NumberInput, Select, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { ProblemList } from "@/app/_ui/ProblemList";
import { decide } from "./actions";

export interface DecideButtonProps {
  itemCode: string;
  placeCode: string;
  /** What the level alone wants. */
  byLevel: number;
  rule: { fixed: number | null; level: number | null } | null;
}

export const WAYS = [
  { value: "rules", label: "The level of the rules" },
  { value: "level", label: "A level of its own" },
  { value: "fixed", label: "A fixed number" },
] as const;
type Way = (typeof WAYS)[number]["value"];

/** Decides about one variant at one warehouse, with the reason. */
export function DecideButton({ itemCode, placeCode, byLevel, rule }: DecideButtonProps) {
  const { t } = useWords();
  const [open, setOpen] = useState(false);
  const [way, setWay] = useState<Way>(rule === null ? "rules" : rule.fixed === null ? "level" : "fixed");
  const [fixed, setFixed] = useState(String(rule?.fixed ?? byLevel));
  const [level, setLevel] = useState(String(rule?.level ?? 0.95));
  const [reason, setReason] = useState("");
  const { send, busy, problems } = useSend(decide);
  const close = () => setOpen(false);
  const chosen =
    way === "rules" ? null : way === "fixed" ? { fixed: Number(fixed) } : { level: Number(level) };
  return (
    <>
      <Button size="small" kind="plain" onClick={() => setOpen(true)}>
        {t("Decide")}{" "}
        <span className="sr-only">
          {t("spares of {{item}} at {{place}}", { item: itemCode, place: placeCode })}
        </span>
      </Button>
      <Dialog
        open={open}
        onClose={close}
        title={t("Spares of {{item}} at {{place}}", { item: itemCode, place: placeCode })}
      >
        <form
          className="ui-form"
          onSubmit={(e) => {
            e.preventDefault();
            send({ itemCode, placeCode, rule: chosen, reason }, () => {
              close();
              return t("Spares of {{item}} at {{place}} decided; needs are netted again", {
                item: itemCode,
                place: placeCode,
              });
            });
          }}
        >
          <Select
            label={t("Kept by")}
            value={way}
            onChange={(e) => setWay(e.target.value as Way)}
            choices={WAYS.map(({ value, label }) => ({ value, label: t(label) }))}
          />
          {way === "fixed" ? (
            <NumberInput
              label={t("Spares")}
              min={0}
              max={10_000}
              step={1}
              required
              value={fixed}
              hint={t("By the level: {{byLevel}}.", { byLevel })}
              onChange={(e) => setFixed(e.target.value)}
            />
          ) : null}
          {way === "level" ? (
            <NumberInput
              label={t("Last until the repair is back, in so many cases")}
              unit="share"
              min={0.5}
              max={0.9999}
              step={0.0001}
              required
              value={level}
              onChange={(e) => setLevel(e.target.value)}
            />
          ) : null}
          <TextInput
            label={t("Why")}
            required
            minLength={3}
            maxLength={300}
            value={reason}
            onChange={(e) => setReason(e.target.value)}
          />
          <ProblemList problems={problems} />
          <div className="ui-form-actions justify-end">
            <Button onClick={close}>{t("Leave as it is")}</Button>
            <Button kind="primary" type="submit" busy={busy}>
              {t("Keep it so")}
            </Button>
          </div>
        </form>
      </Dialog>
    </>
  );
}
