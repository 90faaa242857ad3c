"use client";

import { useRouter } from "next/navigation";
import { type DragEvent, useRef, useState } from "react";
import { Button } from "@/app/_ui/Button";
import { Glyph } from "@/app/_ui/Glyph";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { messageOf, remedyOf } from "@/app/_ui/language/problemWords";
import { Notice } from "@/app/_ui/Notice";
import { ProgressBar } from "@/app/_ui/ProgressBar";
import { figure, phrase } from "@/lib/phrase";
import { type Problem, type Result, sentences } from "@/lib/result";
import { openImport, previewImport } from "./actions";

const ENDINGS = /\.(csv|txt|tsv|xlsx)$/i;

/** Takes files by button or by dropping them, sends them one after the other and opens the preview. */
export function UploadArea({ maxBytes }: { maxBytes: number }) {
  const words = useWords();
  const { t } = words;
  const router = useRouter();
  const picker = useRef<HTMLInputElement>(null);
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [sending, setSending] = useState<{ name: string; done: number; of: number }>();
  const [isOver, setIsOver] = useState(false);

  async function send(files: readonly File[]): Promise<void> {
    if (files.length === 0 || sending) return;
    const wrong = files.flatMap((file) => fileProblem(file, maxBytes));
    setProblems(wrong);
    if (wrong.length > 0) return;
    setSending({ name: files[0]!.name, done: 0, of: files.length });
    const failed = await sendAll(files, (name, done) => setSending({ name, done, of: files.length }));
    if (failed.ok) router.push(`/import/${failed.value}`);
    else {
      setProblems(failed.problems);
      setSending(undefined);
    }
  }

  function drop(event: DragEvent): void {
    event.preventDefault();
    setIsOver(false);
    void send([...event.dataTransfer.files]);
  }

  return (
    <div className="grid gap-3">
      {problems.map((p) => (
        <Notice
          key={`${p.path} ${p.rule}`}
          kind="problem"
          announce
          title={`${p.path}: ${messageOf(p, words)}`}
        >
          {remedyOf(p, words)}
        </Notice>
      ))}
      {/* biome-ignore lint/a11y/noStaticElementInteractions: dropping is an addition to the button inside, which keys reach */}
      <div
        className="grid min-h-36 place-items-center gap-2 border-2 border-dashed border-line p-4 text-center"
        style={isOver ? { borderColor: "var(--petrol)", background: "var(--petrol-wash)" } : undefined}
        onDragOver={(event) => {
          event.preventDefault();
          setIsOver(true);
        }}
        onDragLeave={() => setIsOver(false)}
        onDrop={drop}
      >
        {sending ? (
          <div className="w-full max-w-xl">
            <ProgressBar
              label={t("Sending {{name}}", { name: sending.name })}
              share={sending.done / sending.of}
              words={t("file {{no}} of {{of}}", {
                no: Math.min(sending.done + 1, sending.of),
                of: sending.of,
              })}
            />
          </div>
        ) : (
          <>
            <Glyph name="import" />
            <p>{t("Drop CSV or XLSX files here, or")}</p>
            <Button kind="primary" onClick={() => picker.current?.click()}>
              {t("Choose files")}
            </Button>
            <p className="text-quiet">
              {t(
                "Several at once, each up to {{most}} MB. Nothing is stored before you have seen every row.",
                { most: Math.round(maxBytes / 1048576) },
              )}
            </p>
          </>
        )}
      </div>
      <input
        ref={picker}
        type="file"
        multiple
        accept=".csv,.txt,.tsv,.xlsx"
        className="sr-only"
        tabIndex={-1}
        aria-label={t("File chooser")}
        onChange={(event) => {
          void send([...(event.target.files ?? [])]);
          event.target.value = "";
        }}
      />
    </div>
  );
}

function fileProblem(file: File, maxBytes: number): Problem[] {
  if (!ENDINGS.test(file.name))
    return [
      {
        path: file.name,
        rule: "file-not-a-table",
        ...sentences(
          phrase("The file is neither a CSV file nor a workbook."),
          phrase("Save the table as .csv or .xlsx."),
        ),
      },
    ];
  if (file.size === 0)
    return [
      {
        path: file.name,
        rule: "file-empty",
        ...sentences(
          phrase("The file is empty. It was not sent."),
          phrase("Check that it was saved with its rows, and choose it anew."),
        ),
      },
    ];
  if (file.size <= maxBytes) return [];
  return [
    {
      path: file.name,
      rule: "file-too-large",
      value: file.size,
      ...sentences(
        phrase("The file has {{size}} MB; at most {{most}} MB can be read. It was not sent.", {
          size: figure(file.size / 1048576, 1),
          most: figure(maxBytes / 1048576, 1),
        }),
        phrase("Split it into several files with the same header; any number can be brought in together."),
      ),
    },
  ];
}

/** Gives the import's id once all files are there and the preview is under way. */
async function sendAll(
  files: readonly File[],
  onFile: (name: string, done: number) => void,
): Promise<Result<string>> {
  const opened = await openImport({});
  if (!opened.ok) return opened;
  for (const [i, file] of files.entries()) {
    onFile(file.name, i);
    const address = `/api/imports/${opened.value}/files?name=${encodeURIComponent(file.name)}`;
    const answer = await fetch(address, { method: "POST", body: file })
      .then((response) => response.json() as Promise<Result<unknown>>)
      .catch((): Result<unknown> => ({ ok: false, problems: [lost(file.name)] }));
    if (!answer.ok) return answer;
  }
  onFile(files.at(-1)!.name, files.length);
  const started = await previewImport({ importId: opened.value });
  return started.ok ? opened : started;
}

const lost = (path: string): Problem => ({
  path,
  rule: "not-sent",
  ...sentences(
    phrase("The connection broke while the file was being sent."),
    phrase("Try again; nothing was stored."),
  ),
});
