"use client";

import { type FormEvent, useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { NumberInput, TextInput } from "@/app/_ui/Field";
import { formatMoney, minorOf, typedMoney } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { ROLE_WORDS } from "@/app/_ui/nav";
import { Panel } from "@/app/_ui/Panel";
import { ProblemList } from "@/app/_ui/ProblemList";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { type ApprovalLimit, LIMITED_ROLES, type LimitedRole } from "@/lib/stock";
import { setApprovalLimit } from "./actions";

export interface LimitRow extends ApprovalLimit {
  /** Who set it when, in words. */
  set: string;
}

export interface ApprovalLimitsProps {
  limits: readonly LimitRow[];
  /** Those that anything is priced in. */
  currencies: readonly string[];
}

interface Cell {
  role: LimitedRole;
  currency: string;
  limit: LimitRow | undefined;
}

/** Up to which amount each role approves an order on its own; an administrator sets it. */
export function ApprovalLimits({ limits, currencies }: ApprovalLimitsProps) {
  const { t, locale } = useWords();
  const [open, setOpen] = useState<Cell>();
  const close = () => setOpen(undefined);
  const cells = LIMITED_ROLES.flatMap((role) =>
    currencies.map((currency) => ({
      role,
      currency,
      limit: limits.find((l) => l.role === role && l.currency === currency),
    })),
  );
  const withoutLimit = (role: LimitedRole) =>
    limits.some((l) => l.role === role) || role === "logistics" ? t("none") : t("any amount");
  return (
    <Panel
      title={t("Approving orders")}
      note={t("Up to which amount a role approves an order on its own. Administrators approve any order.")}
      flush
    >
      <ScrollRegion label={t("Approving orders")} className="max-md:px-4">
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              <th scope="col">{t("Role")}</th>
              <th scope="col">{t("Currency")}</th>
              <th scope="col" data-align="end">
                {t("Up to, an order")}
              </th>
              <th scope="col">{t("Set by")}</th>
              <th scope="col">
                <span className="sr-only">{t("Change (verb)")}</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {cells.map((c) => (
              <tr key={`${c.role} ${c.currency}`}>
                <th scope="row" data-label={t("Role")}>
                  {t(ROLE_WORDS[c.role])}
                </th>
                <td data-label={t("Currency")}>{c.currency}</td>
                <td data-label={t("Up to, an order")} data-align="end">
                  {c.limit ? formatMoney(c.limit.upToMinor, c.currency, locale) : withoutLimit(c.role)}
                </td>
                <td data-label={t("Set by")}>{c.limit?.set ?? t("as delivered")}</td>
                <td>
                  <Button size="small" kind="plain" onClick={() => setOpen(c)}>
                    {t("Change (verb)")}
                    <span className="sr-only">
                      {" "}
                      {t("limit of {{role}} in {{currency}}", {
                        role: t(ROLE_WORDS[c.role]),
                        currency: c.currency,
                      })}
                    </span>
                  </Button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
      <Dialog
        open={open !== undefined}
        onClose={close}
        title={
          open
            ? t("{{role}}: orders in {{currency}}", {
                role: t(ROLE_WORDS[open.role]),
                currency: open.currency,
              })
            : ""
        }
      >
        {open ? <LimitForm cell={open} onClose={close} /> : null}
      </Dialog>
    </Panel>
  );
}

function LimitForm({ cell: { role, currency, limit }, onClose }: { cell: Cell; onClose: () => void }) {
  const { t } = useWords();
  const { send, busy, problems } = useSend(setApprovalLimit);
  const save = (form: HTMLFormElement, upToMinor: number | null) =>
    send({ role, currency, upToMinor, reason: String(new FormData(form).get("reason") ?? "") }, () => {
      onClose();
      return t("Limit saved. It counts from now on.");
    });
  function submit(event: FormEvent<HTMLFormElement>): void {
    event.preventDefault();
    const amount = String(new FormData(event.currentTarget).get("amount") ?? "");
    save(event.currentTarget, amount === "" ? Number.NaN : minorOf(amount, currency));
  }
  return (
    <form className="ui-form" onSubmit={submit} noValidate>
      <p>
        {role === "manager"
          ? t("Without any limit rollout managers approve every order.")
          : t("Without any limit logistics staff approve no order.")}{" "}
        {t("With a limit in one currency, orders in another need one of their own.")}
      </p>
      <NumberInput
        label={t("Up to, an order")}
        name="amount"
        unit={currency}
        min={0}
        step="any"
        required
        defaultValue={limit ? typedMoney(limit.upToMinor, currency) : ""}
      />
      <TextInput label={t("Why")} name="reason" required minLength={3} maxLength={300} />
      <ProblemList problems={problems} />
      <div className="ui-form-actions justify-end">
        {limit ? (
          <Button busy={busy} onClick={(e) => e.currentTarget.form && save(e.currentTarget.form, null)}>
            {t("Take the limit away")}
          </Button>
        ) : null}
        <Button onClick={onClose}>{t("Leave as it is")}</Button>
        <Button kind="primary" type="submit" busy={busy}>
          {t("Save")}
        </Button>
      </div>
    </form>
  );
}
