"use client";

import { useRouter } from "next/navigation";
import { type FormEvent, useState } from "react";
import { newKey } from "@/app/_client/newKey";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { ConfirmButton } from "@/app/_ui/ConfirmButton";
import { Field, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { ProblemList } from "@/app/_ui/ProblemList";
import { useToast } from "@/app/_ui/Toast";
import type { Problem, Result } from "@/lib/result";
import { removeOutlines, removeTiles, setTiles } from "./actions";

export const OUTLINES_NOT_REACHED: Problem = {
  path: "",
  rule: "not-reached",
  message: "The server did not answer. It is not known whether the outlines were kept.",
  remedy: "Send the file again.",
};

export function OutlineForm({ has }: { has: boolean }) {
  const { t } = useWords();
  const router = useRouter();
  const toast = useToast();
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [busy, setBusy] = useState(false);
  const drop = useSend(removeOutlines);

  async function send(event: FormEvent<HTMLFormElement>): Promise<void> {
    event.preventDefault();
    const form = event.currentTarget;
    const data = new FormData(form);
    const file = data.get("file") as File;
    setBusy(true);
    try {
      const query = new URLSearchParams({ label: String(data.get("label")) });
      const response = await fetch(`/api/map/outlines?${query}`, {
        method: "POST",
        headers: { "idempotency-key": newKey() },
        body: file,
      });
      const answer = (await response.json()) as Result<{ outlines: number }>;
      if (!answer.ok) return setProblems(answer.problems);
      setProblems([]);
      form.reset();
      toast({ kind: "good", text: t("{{count}} outlines on the map.", { count: answer.value.outlines }) });
      router.refresh();
    } catch {
      setProblems([OUTLINES_NOT_REACHED]);
    } finally {
      setBusy(false);
    }
  }

  return (
    <form onSubmit={send} className="grid gap-3">
      <Field label={t("GeoJSON file")} required hint={t("Takes the place of the outlines in use.")}>
        {(ids) => (
          <input {...ids} className="ui-input" type="file" name="file" accept=".geojson,.json" required />
        )}
      </Field>
      <TextInput
        label={t("Source")}
        name="label"
        required
        minLength={3}
        maxLength={120}
        hint={t("Shown under the map, for example who measured the coast.")}
      />
      <ProblemList problems={[...problems, ...drop.problems]} />
      <div className="flex flex-wrap gap-2">
        <Button type="submit" kind="primary" busy={busy}>
          {t("Bring in outlines")}
        </Button>
        {has ? (
          <ConfirmButton
            question={t("Remove the outlines in use?")}
            consequence={t("The map is a plain sheet then, until others are brought in.")}
            confirmWords={t("Remove")}
            onConfirm={() => drop.send({}, () => t("Outlines removed."))}
          >
            {t("Remove outlines")}
          </ConfirmButton>
        ) : null}
      </div>
    </form>
  );
}

export function TileForm({ template, attribution }: { template?: string; attribution?: string }) {
  const { t } = useWords();
  const keep = useSend(setTiles);
  const drop = useSend(removeTiles);
  function send(event: FormEvent<HTMLFormElement>): void {
    event.preventDefault();
    const data = new FormData(event.currentTarget);
    keep.send({ template: String(data.get("template")), attribution: String(data.get("attribution")) }, () =>
      t("Kept. Pages opened from now on show the pictures."),
    );
  }
  return (
    <form onSubmit={send} className="grid gap-3">
      <TextInput
        label={t("Tile address")}
        name="template"
        required
        defaultValue={template}
        placeholder="https://tiles.example/{z}/{x}/{y}.png"
        hint={t("With {z}, {x} and {y} where zoom, column and row go.")}
      />
      <TextInput
        label={t("Attribution")}
        name="attribution"
        required
        minLength={3}
        maxLength={200}
        defaultValue={attribution}
        hint={t("As the terms of that server ask for; shown under the map.")}
      />
      <ProblemList problems={[...keep.problems, ...drop.problems]} />
      <div className="flex flex-wrap gap-2">
        <Button type="submit" busy={keep.busy}>
          {t("Keep the address")}
        </Button>
        {template ? (
          <Button busy={drop.busy} onClick={() => drop.send({}, () => t("Pictures are off."))}>
            {t("Turn pictures off")}
          </Button>
        ) : null}
      </div>
    </form>
  );
}
