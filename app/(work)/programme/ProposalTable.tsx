"use client";

import { type FormEvent, useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { Check, TextArea } from "@/app/_ui/Field";
import { formatCount } from "@/app/_ui/format";
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
  /** "factor", "allowance". */
  one: string;
  /** "Actuals", "Ends". */
  countHead: string;
  /** "actual hours are in". */
  moreWhen: string;
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
      <ScrollRegion label={`Proposed ${about.one}s`} className="max-md:px-4">
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              {mayDecide ? (
                <th scope="col">
                  <span className="sr-only">Choose</span>
                </th>
              ) : null}
              <th scope="col">For</th>
              <th scope="col">{about.countHead}</th>
              <th scope="col">In force</th>
              <th scope="col">Proposed</th>
              <th scope="col">{about.countHead} alone</th>
              <th scope="col">Four in five between</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((r) => (
              <tr key={r.id}>
                {mayDecide ? (
                  <td>
                    <Check
                      label={<span className="sr-only">Choose {r.subject}</span>}
                      checked={chosen.has(r.id)}
                      onChange={(event) => toggle(r.id, event.target.checked)}
                    />
                  </td>
                ) : null}
                <th scope="row" data-label="For">
                  <div>
                    {r.subject}
                    <span className="text-quiet block font-normal">{r.level}</span>
                  </div>
                </th>
                <td data-label={about.countHead}>{r.actuals}</td>
                <td data-label="In force">{r.inForceWords}</td>
                <td data-label="Proposed">
                  <strong>{r.proposedWords}</strong>
                </td>
                <td data-label={`${about.countHead} alone`}>{r.plainWords}</td>
                <td data-label="Four in five between">{r.betweenWords}</td>
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
            {chosen.size === rows.length ? "Choose none" : "Choose all"}
          </Button>
          <Button kind="primary" disabled={picked.length === 0} onClick={() => setOpen("accept")}>
            Accept the chosen
          </Button>
          <Button disabled={picked.length === 0} onClick={() => setOpen("reject")}>
            Reject the chosen
          </Button>
        </div>
      ) : null}
      <Dialog
        open={open === "accept"}
        onClose={close}
        title={`Accept ${formatCount(picked.length, about.one)}?`}
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
        title={`Reject ${formatCount(picked.length, "proposal")}?`}
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
  return (
    <ul className="list-disc pl-5">
      {rows.map((r) => (
        <li key={r.id}>
          {r.subject}: {r.inForceWords} becomes <strong>{r.proposedWords}</strong>, from {r.actuals}
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
  const { send, busy, problems } = useSend(about.reject);
  function submit(event: FormEvent<HTMLFormElement>): void {
    event.preventDefault();
    const reason = String(new FormData(event.currentTarget).get("reason") ?? "");
    send({ proposals: rows.map(({ id, proposed }) => ({ id, proposed })), reason }, ({ rejected }) => {
      onClose();
      return `${formatCount(rejected, "proposal")} rejected. They come back when more ${about.moreWhen}.`;
    });
  }
  return (
    <form className="ui-form" onSubmit={submit} noValidate>
      <Picked rows={rows} />
      <TextArea
        label="Reason"
        name="reason"
        rows={2}
        required
        maxLength={300}
        hint="Kept in the history and the log."
      />
      <ProblemList problems={problems} />
      <div className="ui-form-actions justify-end">
        <Button onClick={onClose}>Leave them open</Button>
        <Button kind="primary" type="submit" busy={busy}>
          Reject
        </Button>
      </div>
    </form>
  );
}
