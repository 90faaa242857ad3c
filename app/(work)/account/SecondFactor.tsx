"use client";

import { useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { CopyField } from "@/app/_ui/CopyField";
import { Dialog } from "@/app/_ui/Dialog";
import { DialogForm } from "@/app/_ui/DialogForm";
import { TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Notice } from "@/app/_ui/Notice";
import { Panel } from "@/app/_ui/Panel";
import { QrPicture } from "@/app/_ui/QrPicture";
import { StateMark } from "@/app/_ui/StateMark";
import {
  beginSecondFactor,
  confirmSecondFactor,
  renewBackupCodes,
  type SecondFactorStart,
  turnOffSecondFactor,
} from "./actions";
import { useProblemsAt } from "./useProblemsAt";

type Open = "begin" | "renew" | "off";

/** Said as the title of each dialog. */
const TITLE: Record<Open, string> = {
  begin: "Turn on the second factor",
  renew: "New backup codes",
  off: "Turn off the second factor?",
};

/** A code from an app on a device, asked besides the password: whoever learns the password alone does not get in. */
export function SecondFactor({ isOn }: { isOn: boolean }) {
  const [open, setOpen] = useState<Open>();
  const { t } = useWords();
  const close = () => setOpen(undefined);
  return (
    <Panel
      title={t("Second factor")}
      actions={<StateMark state={isOn ? "met" : "open"}>{isOn ? t("On") : t("Off")}</StateMark>}
    >
      <div className="grid gap-3">
        <p>
          {isOn
            ? t(
                "Signing in asks for your password and for the code that your app shows at that moment. Without the device a backup code helps, each once.",
              )
            : t(
                "With it, signing in asks for a code from an app on your phone besides the password. Any app for time-based codes (TOTP) does; it needs no network.",
              )}
        </p>
        <div className="flex flex-wrap gap-2">
          {isOn ? (
            <>
              <Button onClick={() => setOpen("renew")}>{t("New backup codes")}</Button>
              <Button onClick={() => setOpen("off")}>{t("Turn off")}</Button>
            </>
          ) : (
            <Button onClick={() => setOpen("begin")}>{t("Turn on")}</Button>
          )}
        </div>
      </div>
      <Dialog open={open !== undefined} onClose={close} title={open ? t(TITLE[open]) : ""}>
        {open === "begin" ? <Begin onClose={close} /> : null}
        {open === "renew" ? <Renew onClose={close} /> : null}
        {open === "off" ? <TurnOff onClose={close} /> : null}
      </Dialog>
    </Panel>
  );
}

const PASSWORD = ["current"];
const CODE = ["code"];

const PasswordInput = ({ at }: Pick<ReturnType<typeof useProblemsAt>, "at">) => (
  <TextInput
    label={useWords().t("Your password")}
    {...at("current")}
    type="password"
    autoComplete="current-password"
    required
  />
);

const currentOf = (form: FormData) => ({ current: String(form.get("current") ?? "") });

function Begin({ onClose }: { onClose: () => void }) {
  const begin = useSend(beginSecondFactor);
  const confirm = useSend(confirmSecondFactor);
  const { t } = useWords();
  const password = useProblemsAt(begin.problems, PASSWORD);
  const code = useProblemsAt(confirm.problems, CODE);
  const [made, setMade] = useState<SecondFactorStart>();
  const [isConfirmed, setIsConfirmed] = useState(false);
  if (isConfirmed && made) return <BackupCodes codes={made.backupCodes} onClose={onClose} />;
  if (made)
    return (
      <DialogForm
        busy={confirm.busy}
        problems={code.others}
        words={t("Turn on")}
        onClose={onClose}
        onSend={(form) =>
          confirm.send({ code: String(form.get("code") ?? "") }, () => {
            setIsConfirmed(true);
            return t("The second factor is on.");
          })
        }
      >
        <p>{t("Read this picture with the app, or type the key into it.")}</p>
        <QrPicture code={made.qr} label={t("The key as a picture for the app to read")} side="220" />
        <CopyField label={t("Key")} text={made.key} />
        <TextInput
          label={t("Code that the app shows")}
          {...code.at("code")}
          inputMode="numeric"
          autoComplete="one-time-code"
          hint={t("6 digits. It proves that the key arrived; nothing changes before.")}
        />
      </DialogForm>
    );
  return (
    <DialogForm
      busy={begin.busy}
      problems={password.others}
      words={t("Go on")}
      onClose={onClose}
      onSend={(form) =>
        begin.send(currentOf(form), (value) => {
          setMade(value);
          return undefined;
        })
      }
    >
      <PasswordInput at={password.at} />
    </DialogForm>
  );
}

function Renew({ onClose }: { onClose: () => void }) {
  const renew = useSend(renewBackupCodes);
  const password = useProblemsAt(renew.problems, PASSWORD);
  const { t } = useWords();
  const [codes, setCodes] = useState<readonly string[]>();
  if (codes) return <BackupCodes codes={codes} onClose={onClose} />;
  return (
    <DialogForm
      busy={renew.busy}
      problems={password.others}
      words={t("Make new codes")}
      onClose={onClose}
      onSend={(form) =>
        renew.send(currentOf(form), (value) => {
          setCodes(value);
          return undefined;
        })
      }
    >
      <p>{t("The codes that you have now are void from then on.")}</p>
      <PasswordInput at={password.at} />
    </DialogForm>
  );
}

function TurnOff({ onClose }: { onClose: () => void }) {
  const off = useSend(turnOffSecondFactor);
  const password = useProblemsAt(off.problems, PASSWORD);
  const { t } = useWords();
  return (
    <DialogForm
      busy={off.busy}
      problems={password.others}
      words={t("Turn off")}
      onClose={onClose}
      onSend={(form) =>
        off.send(currentOf(form), () => {
          onClose();
          return t("The second factor is off.");
        })
      }
    >
      <p>{t("Your password alone lets in from then on. Backup codes are void.")}</p>
      <PasswordInput at={password.at} />
    </DialogForm>
  );
}

function BackupCodes({ codes, onClose }: { codes: readonly string[]; onClose: () => void }) {
  const { t } = useWords();
  return (
    <div className="grid gap-3" data-shown-once>
      <Notice kind="warn" title={t("Keep these backup codes now; they are not shown again")}>
        {t("Each lets you in once when the device is not at hand. On paper, not on the same device.")}
      </Notice>
      <ul className="grid grid-cols-2 gap-1 font-mono" aria-label={t("Backup codes")}>
        {codes.map((code) => (
          <li key={code}>{code}</li>
        ))}
      </ul>
      <CopyField label={t("All of them")} text={codes.join(" ")} />
      <div className="ui-form-actions justify-end">
        <Button kind="primary" onClick={onClose}>
          {t("I have kept them")}
        </Button>
      </div>
    </div>
  );
}
