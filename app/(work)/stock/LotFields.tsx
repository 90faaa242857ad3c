"use client";

import { DateInput, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";

/** The lot of what comes in and, of an item that ages, its last day of use. */
export function LotFields(props: {
  ages: boolean;
  /** Where the lot is needed although its last day of use is known. */
  lotRequired?: boolean;
  lotHint?: string;
  lot: string;
  expiresOn: string;
  lotError?: string;
  onLot: (lot: string) => void;
  onExpires: (day: string) => void;
}) {
  const { t } = useWords();
  return (
    <>
      <TextInput
        label={t("Lot")}
        required={props.lotRequired ?? props.ages}
        maxLength={60}
        hint={props.lotHint}
        value={props.lot}
        error={props.lotError}
        onChange={(e) => props.onLot(e.target.value)}
      />
      {props.ages ? (
        <DateInput
          label={t("Last day of use")}
          required
          value={props.expiresOn}
          onChange={(e) => props.onExpires(e.target.value)}
        />
      ) : null}
    </>
  );
}
