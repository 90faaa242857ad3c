"use client";

import { useEffect, useRef, useState } from "react";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import type { Words } from "@/app/_ui/language/words";
import { Notice } from "@/app/_ui/Notice";
import { frameReader } from "./decode";

/** Between two looks: quick to the eye, and the phone stays cool. */
const LOOK_MILLIS = 150;

function whyNot(thrown: unknown, { t }: Words): string {
  if (!navigator.mediaDevices)
    return t(
      "The browser gives the camera to pages over https only. Open this page by https, or type the code.",
    );
  const name = thrown instanceof DOMException ? thrown.name : "";
  if (name === "NotAllowedError")
    return t(
      "The camera is not allowed for this page. Allow it in the browser's settings for this site, or type the code.",
    );
  if (name === "NotFoundError") return t("This device has no camera. Type the code, or use a scanner.");
  return t("The camera could not be started; another program may be using it. Type the code, or try again.");
}

/** The camera's picture until it shows a code. */
export function Camera({ onRead }: { onRead: (text: string) => void }) {
  const words = useWords();
  const { t } = words;
  const video = useRef<HTMLVideoElement>(null);
  const [failed, setFailed] = useState<{ thrown: unknown }>();
  const report = useRef(onRead);
  report.current = onRead;

  useEffect(() => {
    let isOver = false;
    let stream: MediaStream | undefined;
    async function look(): Promise<void> {
      const read = await frameReader();
      stream = await navigator.mediaDevices.getUserMedia({
        video: { facingMode: "environment", width: { ideal: 1280 } },
      });
      const picture = video.current;
      if (isOver || !picture) return;
      picture.srcObject = stream;
      await picture.play();
      while (!isOver) {
        const text = await read(picture);
        if (text && !isOver) {
          isOver = true;
          navigator.vibrate?.(80);
          report.current(text);
          return;
        }
        await new Promise((done) => setTimeout(done, LOOK_MILLIS));
      }
    }
    look()
      .catch((thrown: unknown) => {
        if (!isOver) setFailed({ thrown });
      })
      .finally(() => isOver && stream?.getTracks().forEach((t) => void t.stop()));
    return () => {
      isOver = true;
      stream?.getTracks().forEach((t) => void t.stop());
    };
  }, []);

  if (failed) return <Notice kind="warn">{whyNot(failed.thrown, words)}</Notice>;
  return (
    <div className="grid gap-2">
      <video
        ref={video}
        muted
        playsInline
        className="w-full rounded bg-sunk"
        aria-label={t("Picture of the camera")}
      />
      <p role="status">{t("Hold the code into the picture.")}</p>
    </div>
  );
}
