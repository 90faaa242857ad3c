"use client";

import { useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { ConfirmButton } from "@/app/_ui/ConfirmButton";
import { CopyField } from "@/app/_ui/CopyField";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Panel } from "@/app/_ui/Panel";
import { ProblemList } from "@/app/_ui/ProblemList";
import { makeCalendar, revokeCalendar } from "./actions";

export interface CalendarPanelProps {
  crewCode: string;
  /** Who made the address and when; undefined when there is none. */
  made: string | undefined;
}

/** The crew's visits in people's own calendars: an address is made, shown once, replaced and revoked. */
export function CalendarPanel({ crewCode, made }: CalendarPanelProps) {
  const { t, language } = useWords();
  const [address, setAddress] = useState<string>();
  const make = useSend(makeCalendar);
  const revoke = useSend(revokeCalendar);

  const makeOne = () => {
    revoke.clear();
    make.send({ crewCode }, ({ path }) => {
      setAddress(`${location.origin}${path}?language=${language}`);
      return undefined;
    });
  };
  const revokeIt = () => {
    make.clear();
    revoke.send({ crewCode }, () => {
      setAddress(undefined);
      return t("The calendar address is revoked.");
    });
  };

  return (
    <Panel title={t("In your own calendar")} tone="quiet" className="ui-no-print">
      <div className="grid gap-3">
        <p>
          {t(
            "Phones and calendar programs read this crew's visits under a secret address and follow the plan in force. Whoever knows the address can read them, and nothing else.",
          )}
        </p>
        {address ? (
          <CopyField
            label={t("Calendar address")}
            text={address}
            hint={t("Shown now and never again. Give it to your calendar as a subscription.")}
          />
        ) : null}
        {made && !address ? (
          <p>
            {made} {t("It is not shown again: make a new one if it is lost.")}
          </p>
        ) : null}
        <ProblemList problems={[...make.problems, ...revoke.problems]} />
        <div className="flex flex-wrap gap-2">
          {made ? (
            <>
              <ConfirmButton
                kind="quiet"
                question={t("Make a new address for crew {{crew}}?", { crew: crewCode })}
                consequence={t(
                  "Calendars that read the old address get nothing any more, until they are given the new one.",
                )}
                confirmWords={t("Make a new address")}
                onConfirm={makeOne}
              >
                {t("Make a new address")}
              </ConfirmButton>
              <ConfirmButton
                question={t("Revoke the address of crew {{crew}}?", { crew: crewCode })}
                consequence={t(
                  "Calendars that read it get nothing any more. A new address can be made at any time.",
                )}
                confirmWords={t("Revoke the address")}
                onConfirm={revokeIt}
              >
                {t("Revoke the address")}
              </ConfirmButton>
            </>
          ) : (
            <Button busy={make.busy} onClick={makeOne}>
              {t("Make a calendar address")}
            </Button>
          )}
        </div>
      </div>
    </Panel>
  );
}
