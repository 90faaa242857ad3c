"use client";

import { useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Check, Select, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Panel } from "@/app/_ui/Panel";
import { ProblemList } from "@/app/_ui/ProblemList";
import { issue } from "../actions";
import { CountedFields } from "./CountedFields";

export interface IssuePanelProps {
  visitId: string;
  picked: number;
  isShort: boolean;
  vehiclePlace: string | null;
  vehicles: readonly { code: string; name: string }[];
}

/** Count the box, name the vehicle, issue: one movement per lot, all of them or none. */
export function IssuePanel({ visitId, picked, isShort, vehiclePlace, vehicles }: IssuePanelProps) {
  const { t } = useWords();
  const [vehicle, setVehicle] = useState(vehiclePlace ?? "");
  const [confirmed, setConfirmed] = useState("");
  const [counted, setCounted] = useState("");
  const [countedBy, setCountedBy] = useState("");
  const [shortReason, setShortReason] = useState("");
  const isOther = vehiclePlace !== null && vehicle !== "" && vehicle !== vehiclePlace;
  const { send, busy, problems } = useSend(issue);
  return (
    <Panel
      title={t("Count and issue")}
      note={t(
        "A second person counts what lies in the box before it leaves. Every piece, roll, can, tube and pack is one; every cut run and every length of metres is one; ties, labels, lugs, caps and wipes are one bag of each item.",
      )}
    >
      <form
        className="ui-form"
        onSubmit={(e) => {
          e.preventDefault();
          send(
            {
              visitId,
              vehiclePlace: vehicle,
              isOtherVehicle: isOther && confirmed === vehicle,
              counted: Number(counted),
              countedBy,
              shortReason,
            },
            ({ rows }) => t("Kit issued: {{count}} rows in the ledger", { count: rows }),
          );
        }}
      >
        <div className="ui-form-row">
          <Select
            label={t("Loaded into")}
            name="vehicle"
            required
            empty={t("Choose the vehicle")}
            value={vehicle}
            hint={vehiclePlace ? undefined : t("Kept as the crew's vehicle from now on.")}
            onChange={(e) => setVehicle(e.target.value)}
            choices={vehicles.map((v) => ({ value: v.code, label: `${v.code} ${v.name}` }))}
          />
          <CountedFields
            label={t("Things counted in the box")}
            names={{ counted: "counted", countedBy: "countedBy" }}
            counted={counted}
            countedBy={countedBy}
            onCounted={setCounted}
            onCountedBy={setCountedBy}
          />
        </div>
        {isOther ? (
          <Check
            label={t(
              "{{vehicle}} is not the vehicle of its crew, which drives {{own}}: it goes into {{vehicle}} all the same",
              {
                vehicle,
                own: vehiclePlace,
              },
            )}
            required
            checked={confirmed === vehicle}
            onChange={(e) => setConfirmed(e.target.checked ? vehicle : "")}
          />
        ) : null}
        {isShort || isOther ? (
          <TextInput
            label={t("Why it leaves short")}
            name="short"
            maxLength={300}
            value={shortReason}
            hint={t(
              "Some lines are not picked in full, or not opened on the vehicle. Pick the rest, or say why; it goes into the ledger.",
            )}
            onChange={(e) => setShortReason(e.target.value)}
          />
        ) : null}
        <ProblemList problems={problems} />
        <div className="ui-form-actions">
          <Button kind="primary" type="submit" busy={busy} disabled={picked === 0}>
            {t("Issue to the vehicle")}
          </Button>
          {picked === 0 ? <span className="text-quiet">{t("Tick the lines off first.")}</span> : null}
        </div>
      </form>
    </Panel>
  );
}
