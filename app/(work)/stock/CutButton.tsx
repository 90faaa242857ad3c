"use client";

import { useRouter } from "next/navigation";
import { useState } from "react";
import { ScanField } from "@/app/_client/scan/ScanField";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { NumberInput } from "@/app/_ui/Field";
import { formatCm } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import type { Words } from "@/app/_ui/language/words";
import { ProblemList } from "@/app/_ui/ProblemList";
import { StateMark } from "@/app/_ui/StateMark";
import { useToast } from "@/app/_ui/Toast";
import type { CutsMoved } from "@/db/queries/drumViews";
import { isDrum, readLabel } from "@/lib/labels";
import { cutRun } from "./actions";
import { runWords } from "./words";

export interface CutButtonProps {
  drumSerial: string;
  runId: string;
  label: string;
  lengthCm: number;
  fromMarkCm: number;
  sawCm: number;
  /** The warehouse where the drum stands, and the one whose kit wants the piece. */
  standsAt?: string;
  kitPlace?: string;
  /** Label of the drum that was scanned to come here; without it the dialog asks for it. */
  scanned?: string;
}

const wrongDrum = (label: string, wanted: string, found: string, { t }: Words): string =>
  t("This is {{found}}. {{label}} is cut from {{wanted}}: do not cut here, nothing is booked.", {
    found,
    label,
    wanted,
  });

/** Cuts on people's lists that this one moved, each by name: at its new mark, or off the drum. */
function movedWords({ shifted, lost }: CutsMoved, drumSerial: string, { t, locale }: Words): string[] {
  return [
    shifted.length === 0
      ? ""
      : t("{{count}} listed cuts of {{drumSerial}} begin at another mark now: {{runs}}.", {
          count: shifted.length,
          drumSerial,
          runs: shifted
            .map((c) => t("{{run}} at {{mark}}", { run: runWords(c.runId), mark: formatCm(c.toCm, locale) }))
            .join(", "),
        }),
    lost.length === 0
      ? ""
      : t("{{count}} listed cuts do not fit on {{drumSerial}} any more and get another drum: {{runs}}.", {
          count: lost.length,
          drumSerial,
          runs: lost.map(runWords).join(", "),
        }),
  ].filter((text) => text !== "");
}

function whereWords({ drumSerial, standsAt, kitPlace }: CutButtonProps, t: Words["t"]) {
  if (!standsAt || !kitPlace) return null;
  return (
    <p>
      {standsAt === kitPlace
        ? t("{{drumSerial}} stands at {{place}}, where the kit is packed.", { drumSerial, place: standsAt })
        : t(
            "{{drumSerial}} stands at {{place}}; the kit is packed at {{kitPlace}}: mark the coil and send it there.",
            { drumSerial, place: standsAt, kitPlace },
          )}
    </p>
  );
}

/** Confirms a cut that was made, with the length as measured. */
export function CutButton(props: CutButtonProps) {
  const words = useWords();
  const { t, locale } = words;
  const { drumSerial, runId, label, lengthCm, fromMarkCm, sawCm } = props;
  const [open, setOpen] = useState(false);
  const [length, setLength] = useState(String(lengthCm / 100));
  const [scanned, setScanned] = useState(props.scanned);
  const { send, busy, problems, clear } = useSend(cutRun);
  const toast = useToast();
  const router = useRouter();
  const isWrong = scanned !== undefined && !isDrum(scanned, drumSerial);
  return (
    <>
      <Button
        size="small"
        onClick={() => {
          clear();
          setScanned(props.scanned);
          setOpen(true);
        }}
      >
        {t("Confirm cut")} <span className="sr-only">{t("of {{label}}", { label })}</span>
      </Button>
      <Dialog
        open={open}
        onClose={() => setOpen(false)}
        title={t("Cut {{label}} from {{drumSerial}}", { label, drumSerial })}
      >
        <form
          className="ui-form"
          onSubmit={(e) => {
            e.preventDefault();
            send({ drumSerial, runId, length: Number(length), scanned }, ({ leftC, moved }) => {
              setOpen(false);
              // It stays until it is closed: a printed list is wrong from now on.
              for (const text of movedWords(moved, drumSerial, words))
                toast({
                  kind: "info",
                  text,
                  action: { label: t("Reload"), run: router.refresh },
                });
              return t("{{label}} cut; {{left}} left on {{drumSerial}}", {
                label,
                left: formatCm(leftC, locale),
                drumSerial,
              });
            });
          }}
        >
          <p>
            {t(
              "Listed: {{length}} from mark {{from}} to {{to}}, then {{saw}} saw allowance. The ledger gets one row for the run and one for the allowance.",
              {
                length: formatCm(lengthCm, locale),
                from: formatCm(fromMarkCm, locale),
                to: formatCm(fromMarkCm + lengthCm, locale),
                saw: formatCm(sawCm, locale),
              },
            )}
          </p>
          {whereWords(props, t)}
          {props.scanned ? null : (
            <ScanField
              label={t("Scan the drum")}
              hint={
                scanned === undefined || isWrong
                  ? t("Optional: shows at once when it is another one.")
                  : undefined
              }
              error={isWrong ? wrongDrum(label, drumSerial, readLabel(scanned).code, words) : undefined}
              onScan={setScanned}
            />
          )}
          {scanned !== undefined && !isWrong ? (
            <StateMark state="met">
              {t("Drum {{drumSerial}}: the right one for this run", { drumSerial })}
            </StateMark>
          ) : null}
          <NumberInput
            label={t("Length as cut")}
            unit="m"
            min={0.01}
            step={0.01}
            required
            value={length}
            onChange={(e) => setLength(e.target.value)}
          />
          <ProblemList problems={problems} />
          <div className="ui-form-actions justify-end">
            <Button onClick={() => setOpen(false)}>{t("Not yet")}</Button>
            <Button kind="primary" type="submit" busy={busy} disabled={isWrong}>
              {t("Post the cut")}
            </Button>
          </div>
        </form>
      </Dialog>
    </>
  );
}
