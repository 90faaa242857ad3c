"use client";

import { useRouter } from "next/navigation";
import { useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Select } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Panel } from "@/app/_ui/Panel";
import { ProblemList } from "@/app/_ui/ProblemList";
import { start } from "./actions";

/** Begins a count of a place that nobody counts yet. */
export function StartCount({ places }: { places: readonly { code: string; name: string }[] }) {
  const { t } = useWords();
  const [placeCode, setPlaceCode] = useState(places[0]?.code ?? "");
  const { send, busy, problems } = useSend(start);
  const router = useRouter();
  return (
    <Panel title={t("Count a place")}>
      {places.length === 0 ? (
        <p>{t("Every warehouse and vehicle has an open count.")}</p>
      ) : (
        <form
          className="ui-form"
          onSubmit={(e) => {
            e.preventDefault();
            send({ placeCode }, (id) => {
              router.push(`/stock/counts/${id}`);
              return t("Count {{id}} begun", { id: String(id) });
            });
          }}
        >
          <div className="ui-form-row items-end">
            <Select
              label={t("Place")}
              value={placeCode}
              onChange={(e) => setPlaceCode(e.target.value)}
              choices={places.map((p) => ({ value: p.code, label: `${p.code} ${p.name}` }))}
            />
            <Button kind="primary" type="submit" busy={busy}>
              {t("Begin the count")}
            </Button>
          </div>
          <ProblemList problems={problems} />
        </form>
      )}
    </Panel>
  );
}
