"use client";

import Link from "next/link";
import { useRouter, useSearchParams } from "next/navigation";
import { type FormEvent, Suspense, useState } from "react";
import { Button } from "@/app/_ui/Button";
import { CopyField } from "@/app/_ui/CopyField";
import { Dialog } from "@/app/_ui/Dialog";
import { TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { problemWords } from "@/app/_ui/language/problemWords";
import { useToast } from "@/app/_ui/Toast";
import type { KeptView } from "@/db/queries/savedViews";
import type { ListKind } from "@/db/schema/savedView";
import type { Problem } from "@/lib/result";
import { deleteView, keepView, renameView } from "./actions";
import { viewHref, viewQuery } from "./viewQuery";

export interface SavedViewsProps {
  list: ListKind;
  views: readonly KeptView[];
}

/** One's own views of a list, by name: opened by a press; kept, renamed, shared as a link and deleted in a dialog. */
export function SavedViews(props: SavedViewsProps) {
  return (
    <Suspense fallback={<div className="min-h-9" />}>
      <LiveViews {...props} />
    </Suspense>
  );
}

function LiveViews({ list, views }: SavedViewsProps) {
  const now = viewQuery(useSearchParams().toString());
  const [isOpen, setIsOpen] = useState(false);
  const { t } = useWords();
  return (
    <nav
      aria-label={t("Your views")}
      className="ui-no-print flex flex-wrap items-center gap-x-4 gap-y-1 py-1"
    >
      {views.map((v) => (
        <Link
          key={v.id}
          href={viewHref(list, v.query)}
          aria-current={viewQuery(v.query) === now ? "page" : undefined}
          className="py-1"
        >
          {v.name}
        </Link>
      ))}
      <Button size="small" kind="plain" glyph="columns" onClick={() => setIsOpen(true)}>
        {views.length > 0 ? t("Keep or change views") : t("Keep this view")}
      </Button>
      {isOpen ? <ViewsDialog list={list} views={views} onClose={() => setIsOpen(false)} /> : null}
    </nav>
  );
}

function ViewsDialog({ list, views, onClose }: SavedViewsProps & { onClose: () => void }) {
  const router = useRouter();
  const toast = useToast();
  const words = useWords();
  const { t } = words;
  // As the address stood when the dialog was opened: tables keep it in step with what is shown.
  const [query] = useState(() => viewQuery(window.location.search));
  const [name, setName] = useState(() => views.find((v) => viewQuery(v.query) === query)?.name ?? "");
  const [problem, setProblem] = useState<Problem>();
  const [isBusy, setIsBusy] = useState(false);

  async function keep(replaces: boolean): Promise<void> {
    setIsBusy(true);
    const answer = await keepView({ list, name, query, replaces });
    setIsBusy(false);
    setProblem(answer.ok ? undefined : answer.problems[0]);
    if (!answer.ok) return;
    toast({ kind: "good", text: t("Kept as {{name}}.", { name: name.trim() }) });
    onClose();
    router.refresh();
  }

  return (
    <Dialog open onClose={onClose} title={t("Your views of this list")}>
      <div className="grid gap-5">
        <form
          className="ui-form"
          onSubmit={(event: FormEvent) => {
            event.preventDefault();
            void keep(false);
          }}
        >
          <TextInput
            label={t("Keep what is shown now as")}
            hint={t("Filters, sort and columns. Only you see it in your list.")}
            error={problem && problemWords(problem, words)}
            value={name}
            maxLength={60}
            required
            onChange={(e) => {
              setName(e.target.value);
              setProblem(undefined);
            }}
          />
          <div className="ui-form-actions">
            <Button kind="primary" type="submit" busy={isBusy}>
              {t("Keep")}
            </Button>
            {problem?.rule === "name-taken" ? (
              <Button onClick={() => keep(true)}>{t("Replace {{name}}", { name: name.trim() })}</Button>
            ) : null}
          </div>
        </form>
        <CopyField
          label={t("Link to what is shown now")}
          hint={t("Opens the same view for a colleague, as far as their account reaches.")}
          text={`${window.location.origin}${viewHref(list, query)}`}
        />
        {views.length > 0 ? (
          <section className="grid gap-2" aria-label={t("Kept views")}>
            <h3>{t("Kept views")}</h3>
            <ul className="grid gap-2 list-none p-0 m-0">
              {views.map((v) => (
                <li key={v.id}>
                  <OneView view={v} onChange={() => router.refresh()} />
                </li>
              ))}
            </ul>
          </section>
        ) : null}
      </div>
    </Dialog>
  );
}

function OneView({ view, onChange }: { view: KeptView; onChange: () => void }) {
  const [name, setName] = useState(view.name);
  const words = useWords();
  const { t } = words;
  const [problem, setProblem] = useState<Problem>();
  const [busy, setBusy] = useState<"rename" | "delete">();

  async function run(what: "rename" | "delete"): Promise<void> {
    setBusy(what);
    const answer =
      what === "rename" ? await renameView({ id: view.id, name }) : await deleteView({ id: view.id });
    setBusy(undefined);
    setProblem(answer.ok ? undefined : answer.problems[0]);
    if (answer.ok) onChange();
  }

  return (
    <form
      className="flex flex-wrap items-end gap-2"
      onSubmit={(event: FormEvent) => {
        event.preventDefault();
        void run("rename");
      }}
    >
      <TextInput
        label={t("Name of {{name}}", { name: view.name })}
        hideLabel
        error={problem && problemWords(problem, words)}
        value={name}
        maxLength={60}
        onChange={(e) => setName(e.target.value)}
      />
      <Button type="submit" busy={busy === "rename"} disabled={name.trim() === view.name}>
        {t("Rename")}
      </Button>
      <Button
        busy={busy === "delete"}
        label={t("Delete {{name}}", { name: view.name })}
        glyph="close"
        onClick={() => run("delete")}
      />
    </form>
  );
}
