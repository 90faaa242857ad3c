"use client";

import { type FormEvent, useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { Check, DateInput, Select, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { ProblemList } from "@/app/_ui/ProblemList";
import type { Skill } from "@/lib/hours";
import type { CalendarDate } from "@/lib/time";
import { removeCertificate, removeLeave, setCertificate, setLeave } from "./actions";

export interface MemberChoice {
  code: string;
  name: string;
  crew: string;
}

const memberChoices = (members: readonly MemberChoice[]) =>
  members.map((m) => ({ value: m.code, label: `${m.name} (${m.crew})` }));

/** Marks a choice that means everybody of a crew. */
const CREW = "crew:";

export interface CertificateButtonProps {
  members: readonly MemberChoice[];
  skills: readonly { value: Skill; label: string }[];
  /** The certificate to change; a new one without it. */
  row?: { memberCode: string; name: string; skill: Skill; validUntil: CalendarDate | null };
}

/** Adds a certificate, sets until when one is valid, or takes it away. */
export function CertificateButton({ members, skills, row }: CertificateButtonProps) {
  const { t } = useWords();
  const [open, setOpen] = useState(false);
  const [noEnd, setNoEnd] = useState(row?.validUntil === null);
  const save = useSend(setCertificate);
  const remove = useSend(removeCertificate);
  const skillWords = skills.find((s) => s.value === row?.skill)?.label;
  const close = () => setOpen(false);
  const withShort = (saved: string, short: number) =>
    short > 0
      ? `${saved} ${t("{{count}} visits of the plan in force now lack people, they stand below: move them or solve a new plan.", { count: short })}`
      : saved;

  function submit(event: FormEvent<HTMLFormElement>): void {
    event.preventDefault();
    const form = new FormData(event.currentTarget);
    remove.clear();
    save.send(
      {
        memberCode: row?.memberCode ?? String(form.get("member")),
        skill: row?.skill ?? (String(form.get("skill")) as Skill),
        validUntil: noEnd ? null : (String(form.get("validUntil") ?? "") as CalendarDate),
      },
      ({ short }) => {
        close();
        return withShort(t("Certificate saved. A new plan takes it up."), short);
      },
    );
  }

  function takeAway(form: HTMLFormElement | null): void {
    if (!row || !form) return;
    const reason = String(new FormData(form).get("reason") ?? "");
    save.clear();
    remove.send({ memberCode: row.memberCode, skill: row.skill, reason }, ({ short }) => {
      close();
      const gone = t("{{name}} is no longer planned for {{skill}}.", {
        name: row.name,
        skill: skillWords ?? "",
      });
      return withShort(gone, short);
    });
  }

  return (
    <>
      <Button size="small" kind={row ? "plain" : "quiet"} onClick={() => setOpen(true)}>
        {row ? t("Change (verb)") : t("Add a certificate")}
        {row ? (
          <span className="sr-only">
            {" "}
            {t("certificate of {{name}} for {{skill}}", { name: row.name, skill: skillWords ?? "" })}
          </span>
        ) : null}
      </Button>
      <Dialog open={open} onClose={close} title={row ? `${row.name}: ${skillWords}` : t("Add a certificate")}>
        <form className="ui-form" onSubmit={submit} noValidate>
          {row ? null : (
            <>
              <Select label={t("Who")} name="member" choices={memberChoices(members)} empty={t("Choose")} />
              <Select label={t("For")} name="skill" choices={[...skills]} />
            </>
          )}
          <DateInput
            label={t("Valid until, that day included")}
            name="validUntil"
            defaultValue={row?.validUntil ?? ""}
            disabled={noEnd}
          />
          <Check label={t("It has no end")} checked={noEnd} onChange={(e) => setNoEnd(e.target.checked)} />
          {row ? (
            <TextInput label={t("Reason, when it is taken away")} name="reason" maxLength={300} />
          ) : null}
          <ProblemList problems={[...save.problems, ...remove.problems]} />
          <div className="ui-form-actions justify-end">
            {row ? (
              <Button kind="danger" busy={remove.busy} onClick={(e) => takeAway(e.currentTarget.form)}>
                {t("Take it away")}
              </Button>
            ) : null}
            <Button onClick={close}>{t("Leave as it is")}</Button>
            <Button kind="primary" type="submit" busy={save.busy}>
              {t("Save")}
            </Button>
          </div>
        </form>
      </Dialog>
    </>
  );
}

export interface LeaveButtonProps {
  members: readonly MemberChoice[];
  row?: { memberCode: string; name: string; fromOn: CalendarDate; toOn: CalendarDate; reason: string };
}

/** Adds, changes or removes a leave. */
export function LeaveButton({ members, row }: LeaveButtonProps) {
  const { t } = useWords();
  const [open, setOpen] = useState(false);
  const save = useSend(setLeave);
  const remove = useSend(removeLeave);
  const close = () => setOpen(false);

  function submit(event: FormEvent<HTMLFormElement>): void {
    event.preventDefault();
    const form = new FormData(event.currentTarget);
    const date = (name: string) => String(form.get(name) ?? "") as CalendarDate;
    const chosen = row?.memberCode ?? String(form.get("member") ?? "");
    remove.clear();
    save.send(
      {
        ...(chosen.startsWith(CREW) ? { crewCode: chosen.slice(CREW.length) } : { memberCode: chosen }),
        fromOn: date("fromOn"),
        toOn: date("toOn"),
        reason: String(form.get("reason") ?? ""),
        replaces: row?.fromOn,
      },
      ({ visits, short }) => {
        close();
        if (visits === 0) return t("Leave saved. A new plan takes it up.");
        const onIt = t(
          "Leave saved. {{count}} visits of the plan in force fall on it, they stand below the table.",
          { count: visits },
        );
        return short > 0
          ? `${onIt} ${t("For {{count}} of them who is left does not suffice: solve a new plan.", { count: short })}`
          : onIt;
      },
    );
  }

  return (
    <>
      <Button size="small" kind={row ? "plain" : "quiet"} onClick={() => setOpen(true)}>
        {row ? t("Change (verb)") : t("Add leave")}
        {row ? (
          <span className="sr-only">
            {" "}
            {t("leave of {{name}} from {{day}}", { name: row.name, day: row.fromOn })}
          </span>
        ) : null}
      </Button>
      <Dialog
        open={open}
        onClose={close}
        title={row ? t("Leave of {{name}}", { name: row.name }) : t("Add leave")}
      >
        <form className="ui-form" onSubmit={submit} noValidate>
          {row ? null : (
            <Select
              label={t("Who")}
              name="member"
              choices={[
                ...memberChoices(members),
                ...[...new Set(members.map((m) => m.crew))].map((crew) => ({
                  value: `${CREW}${crew}`,
                  label: t("Everybody of crew {{crew}}", { crew }),
                })),
              ]}
              empty={t("Choose")}
            />
          )}
          <div className="ui-form-row">
            <DateInput label={t("First day")} name="fromOn" defaultValue={row?.fromOn} />
            <DateInput label={t("Last day")} name="toOn" defaultValue={row?.toOn} />
          </div>
          <TextInput
            label={t("Why")}
            name="reason"
            defaultValue={row?.reason}
            maxLength={120}
            hint={t("Such as holiday, course")}
          />
          <ProblemList problems={[...save.problems, ...remove.problems]} />
          <div className="ui-form-actions justify-end">
            {row ? (
              <Button
                kind="danger"
                busy={remove.busy}
                onClick={() => {
                  save.clear();
                  remove.send({ memberCode: row.memberCode, fromOn: row.fromOn }, () => {
                    close();
                    return t("Leave of {{name}} removed.", { name: row.name });
                  });
                }}
              >
                {t("Remove")}
              </Button>
            ) : null}
            <Button onClick={close}>{t("Leave as it is")}</Button>
            <Button kind="primary" type="submit" busy={save.busy}>
              {t("Save")}
            </Button>
          </div>
        </form>
      </Dialog>
    </>
  );
}
