"use client";

import { type FormEvent, useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { Check, TextArea } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { places, withParts } from "@/app/_ui/language/parts";
import { ProblemList } from "@/app/_ui/ProblemList";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { SaveChange } from "../rules/SaveChange";
import type { rejectProposals } from "./hours/actions";

export interface ProposalRow {
  id: string;
  /** As the proposal stands, sent back so that a moved one is noticed. */
  proposed: number;
  level: string;
  subject: string;
  actuals: string;
  inForceWords: string;
  proposedWords: string;
  /** What the actuals alone say. */
  plainWords: string;
  /** Four fifths of what it may be. */
  betweenWords: string;
}

/** What the proposals are about, in words and in where a decision goes. */
export interface ProposalKind {
  /** The rule data that an accepted one becomes a version of. */
  kind: "hour calibration" | "takeoff rules";
  reject: typeof rejectProposals;
}

/** Factors that reports speak for, to accept or reject by a person. */
export function ProposalTable({
  rows,
  basedOn,
  mayDecide,
  about,
}: {
  about: ProposalKind;
  rows: readonly ProposalRow[];
  basedOn: number;
  mayDecide: boolean;
}) {
  const { t } = useWords();
  const isHours = about.kind === "hour calibration";
  const countHead = isHours ? t("Actuals") : t("Ends");
  const aloneHead = isHours ? t("Actuals alone") : t("Ends alone");
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set());
  const [open, setOpen] = useState<"accept" | "reject">();
  const picked = rows.filter((r) => chosen.has(r.id));
  const wanted = picked.map(({ id, proposed }) => ({ id, proposed }));
  const close = () => setOpen(undefined);
  const toggle = (id: string, isOn: boolean) => {
    const next = new Set(chosen);
    if (isOn) next.add(id);
    else next.delete(id);
    setChosen(next);
  };
  return (
    <div className="grid gap-3">
      <ScrollRegion
        label={isHours ? t("Proposed factors") : t("Proposed allowances")}
        className="max-md:px-4"
      >
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              {mayDecide ? (
                <th scope="col">
                  <span className="sr-only">{t("Choose")}</span>
                </th>
              ) : null}
              <th scope="col">{t("For")}</th>
              <th scope="col">{countHead}</th>
              <th scope="col">{t("In force")}</th>
              <th scope="col">{t("Proposed")}</th>
              <th scope="col">{aloneHead}</th>
              <th scope="col">{t("Four in five between")}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((r) => (
              <tr key={r.id}>
                {mayDecide ? (
                  <td>
                    <Check
                      label={<span className="sr-only">{t("Choose {{what}}", { what: r.subject })}</span>}
                      checked={chosen.has(r.id)}
                      onChange={(event) => toggle(r.id, event.target.checked)}
                    />
                  </td>
                ) : null}
                <th scope="row" data-label={t("For")}>
                  <div>
                    {r.subject}
                    <span className="text-quiet block font-normal">{r.level}</span>
                  </div>
                </th>
                <td data-label={countHead}>{r.actuals}</td>
                <td data-label={t("In force")}>{r.inForceWords}</td>
                <td data-label={t("Proposed")}>
                  <strong>{r.proposedWords}</strong>
                </td>
                <td data-label={aloneHead}>{r.plainWords}</td>
                <td data-label={t("Four in five between")}>{r.betweenWords}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
      {mayDecide ? (
        <div className="ui-form-actions px-4 pb-3">
          <Button
            onClick={() =>
              setChosen(chosen.size === rows.length ? new Set() : new Set(rows.map((r) => r.id)))
            }
          >
            {chosen.size === rows.length ? t("Choose none") : t("Choose all")}
          </Button>
          <Button kind="primary" disabled={picked.length === 0} onClick={() => setOpen("accept")}>
            {t("Accept the chosen")}
          </Button>
          <Button disabled={picked.length === 0} onClick={() => setOpen("reject")}>
            {t("Reject the chosen")}
          </Button>
        </div>
      ) : null}
      <Dialog
        open={open === "accept"}
        onClose={close}
        title={
          isHours
            ? t("Accept {{count}} factors?", { count: picked.length })
            : t("Accept {{count}} allowances?", { count: picked.length })
        }
        wide
      >
        <SaveChange
          kind={about.kind}
          basedOn={basedOn}
          effectFirst
          readChange={() => ({ accept: wanted })}
          onClose={() => {
            close();
            setChosen(new Set());
          }}
        >
          <Picked rows={picked} />
        </SaveChange>
      </Dialog>
      <Dialog
        open={open === "reject"}
        onClose={close}
        title={t("Reject {{count}} proposals?", { count: picked.length })}
      >
        <RejectForm
          about={about}
          rows={picked}
          onClose={() => {
            close();
            setChosen(new Set());
          }}
        />
      </Dialog>
    </div>
  );
}

function Picked({ rows }: { rows: readonly ProposalRow[] }) {
  const { t } = useWords();
  return (
    <ul className="list-disc pl-5">
      {rows.map((r) => (
        <li key={r.id}>
          {withParts(
            t("{{what}}: {{before}} becomes {{after}}, from {{actuals}}", {
              ...places("after"),
              what: r.subject,
              before: r.inForceWords,
              actuals: r.actuals,
            }),
            { after: <strong>{r.proposedWords}</strong> },
          )}
        </li>
      ))}
    </ul>
  );
}

function RejectForm({
  about,
  rows,
  onClose,
}: {
  about: ProposalKind;
  rows: readonly ProposalRow[];
  onClose: () => void;
}) {
  const { t } = useWords();
  const { send, busy, problems } = useSend(about.reject);
  function submit(event: FormEvent<HTMLFormElement>): void {
    event.preventDefault();
    const reason = String(new FormData(event.currentTarget).get("reason") ?? "");
    send({ proposals: rows.map(({ id, proposed }) => ({ id, proposed })), reason }, ({ rejected }) => {
      onClose();
      return about.kind === "hour calibration"
        ? t("{{count}} proposals rejected. They come back when more actual hours are in.", {
            count: rejected,
          })
        : t("{{count}} proposals rejected. They come back when more ends have reported.", {
            count: rejected,
          });
    });
  }
  return (
    <form className="ui-form" onSubmit={submit} noValidate>
      <Picked rows={rows} />
      <TextArea
        label={t("Reason")}
        name="reason"
        rows={2}
        required
        maxLength={300}
        hint={t("Kept in the history and the log.")}
      />
      <ProblemList problems={problems} />
      <div className="ui-form-actions justify-end">
        <Button onClick={onClose}>{t("Leave them open")}</Button>
        <Button kind="primary" type="submit" busy={busy}>
          {t("Reject")}
        </Button>
      </div>
    </form>
  );
}
