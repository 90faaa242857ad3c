"use client";

import { useRouter } from "next/navigation";
import { useEffect, useMemo, useRef, useState } from "react";
import { newKey } from "@/app/_client/newKey";
import { scaledJpeg } from "@/app/_client/photos/scale";
import { releasePhotos, type WaitingPhoto } from "@/app/_client/photos/store";
import { usePhotos } from "@/app/_client/photos/usePhotos";
import { Button } from "@/app/_ui/Button";
import { Select } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Notice } from "@/app/_ui/Notice";
import { ProblemList } from "@/app/_ui/ProblemList";
import { StateMark } from "@/app/_ui/StateMark";
import { crc32, PHOTO_SUBJECTS, PHOTOS_MOST_PER_VISIT, photoSubjectName } from "@/lib/photos";
import type { VisitKind } from "@/lib/schedule";

export interface PhotoPartProps {
  visitId: string;
  kind: VisitKind;
  userId: string;
  /** Subjects of the photos that the server has of this visit. */
  arrived: readonly string[];
}

/** Photos of the visit: scaled down and kept on the phone first, sent with the report or by the button. */
export function PhotoPart({ visitId, kind, userId, arrived }: PhotoPartProps) {
  const { t } = useWords();
  const router = useRouter();
  const outbox = usePhotos(userId);
  const wanted = PHOTO_SUBJECTS.filter((s) => s.kinds.includes(kind));
  const [subject, setSubject] = useState(wanted[0]?.id ?? "other");
  const [trouble, setTrouble] = useState<string>();
  const [busy, setBusy] = useState(false);
  const camera = useRef<HTMLInputElement>(null);
  const files = useRef<HTMLInputElement>(null);
  const own = (outbox.photos ?? []).filter((p) => p.visitId === visitId);
  const waiting = own.filter((p) => p.isReleased && !p.problems);

  const { arrivedCount, sendNow } = outbox;
  useEffect(() => {
    if (arrivedCount > 0) router.refresh();
  }, [arrivedCount, router]);
  // The report released them, perhaps with a signal.
  const isDue = waiting.length > 0;
  useEffect(() => {
    if (isDue) sendNow();
  }, [isDue, sendNow]);

  async function take(list: FileList | null): Promise<void> {
    setTrouble(undefined);
    setBusy(true);
    let added = 0;
    try {
      for (const file of list ?? []) {
        if (arrived.length + own.length + added >= PHOTOS_MOST_PER_VISIT) {
          setTrouble(t("A visit has at most {{most}} photos.", { most: PHOTOS_MOST_PER_VISIT }));
          break;
        }
        const bytes = await scaledJpeg(file);
        if (!bytes) {
          setTrouble(t("{{file}} is no picture that this browser can read.", { file: file.name }));
          continue;
        }
        added++;
        await outbox.add({
          key: newKey(),
          userId,
          visitId,
          subject,
          takenAtMillis: Date.now(),
          bytes,
          crc32: crc32(new Uint8Array(bytes)),
          isReleased: false,
        });
      }
    } catch {
      setTrouble(
        t(
          "This browser does not let the page keep photos on the phone. Leave private browsing or free some space.",
        ),
      );
    } finally {
      setBusy(false);
      for (const input of [camera.current, files.current]) if (input) input.value = "";
    }
  }
  const has = (id: string) => arrived.includes(id) || own.some((p) => p.subject === id);
  return (
    <div className="grid gap-3">
      {wanted.length > 0 ? (
        <ul className="flex flex-wrap gap-x-5 gap-y-1" aria-label={t("Photos wanted of this visit")}>
          {wanted.map((s) => (
            <li key={s.id}>
              <StateMark state={has(s.id) ? "met" : "open"}>
                {t(s.name)}: {has(s.id) ? t("taken") : t("wanted")}
              </StateMark>
            </li>
          ))}
        </ul>
      ) : null}
      <div className="ui-no-print">
        <Select
          label={t("What it shows")}
          value={subject}
          onChange={(event) => setSubject(event.target.value)}
          choices={PHOTO_SUBJECTS.map((s) => ({ value: s.id, label: t(s.name) }))}
        />
      </div>
      <div className="flex flex-wrap gap-2">
        <Button busy={busy} onClick={() => camera.current?.click()}>
          {t("Take a photo")}
        </Button>
        <Button busy={busy} onClick={() => files.current?.click()}>
          {t("Choose photos")}
        </Button>
      </div>
      <input
        ref={camera}
        className="sr-only"
        type="file"
        accept="image/*"
        capture="environment"
        tabIndex={-1}
        aria-label={t("Camera")}
        onChange={(event) => void take(event.target.files)}
      />
      <input
        ref={files}
        className="sr-only"
        type="file"
        accept="image/*"
        multiple
        tabIndex={-1}
        aria-label={t("Photo files")}
        onChange={(event) => void take(event.target.files)}
      />
      {trouble ? (
        <Notice kind="problem" announce>
          {trouble}
        </Notice>
      ) : null}
      {own.length > 0 ? (
        <>
          <p role="status">
            {t("{{count}} photos on this phone.", { count: own.length })}{" "}
            {waiting.length === 0
              ? t("They go out with the report.", { count: own.length })
              : outbox.state === "sending"
                ? t("Sending now.")
                : outbox.state === "signed out"
                  ? t("Your session has ended. Sign in again: nothing is lost.")
                  : t("They go out by themselves when this page is open with a signal.", {
                      count: own.length,
                    })}
          </p>
          <ul className="ui-photos">
            {own.map((photo) => (
              <Kept key={photo.key} photo={photo} outbox={outbox} />
            ))}
          </ul>
          <div>
            <Button
              busy={outbox.state === "sending"}
              onClick={() => void releasePhotos(userId, visitId).then(sendNow)}
            >
              {t("Send photos now")}
            </Button>
          </div>
        </>
      ) : null}
    </div>
  );
}

function Kept({ photo, outbox }: { photo: WaitingPhoto; outbox: ReturnType<typeof usePhotos> }) {
  const { t } = useWords();
  const address = useMemo(
    () => URL.createObjectURL(new Blob([photo.bytes], { type: "image/jpeg" })),
    [photo.bytes],
  );
  useEffect(() => () => URL.revokeObjectURL(address), [address]);
  const name = t(photoSubjectName(photo.subject));
  return (
    <li>
      {/* biome-ignore lint/performance/noImgElement: it lies on this phone, nothing could make it smaller */}
      <img src={address} alt={name} />
      <span>{name}</span>
      <ProblemList problems={photo.problems ?? []} />
      {photo.problems ? (
        <Button size="small" onClick={() => void outbox.sendAgain(photo)}>
          {t("Try again")}
        </Button>
      ) : null}
      {photo.isReleased && !photo.problems ? null : (
        <Button size="small" onClick={() => void outbox.discard(photo.key)}>
          {t("Take away")}
          <span className="sr-only"> {name}</span>
        </Button>
      )}
    </li>
  );
}
