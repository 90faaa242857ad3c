"use client";

import { useCallback, useEffect, useState } from "react";
import { type PhotoSendState, sendPhotos } from "./send";
import {
  hearPhotos,
  putPhoto,
  removeWaitingPhoto,
  tellPhotos,
  type WaitingPhoto,
  waitingPhotos,
} from "./store";

export interface Photos {
  /** Of this person; undefined until they were read. */
  photos: readonly WaitingPhoto[] | undefined;
  state: PhotoSendState | "sending" | undefined;
  /** Rises with every photo that arrived since the page was opened. */
  arrivedCount: number;
  add: (photo: WaitingPhoto) => Promise<void>;
  discard: (key: string) => Promise<void>;
  /** A refused one once more. */
  sendAgain: (photo: WaitingPhoto) => Promise<void>;
  sendNow: () => void;
}

/** Sends by itself when the page opens, when a signal comes back and when the page is looked at again. */
export function usePhotos(userId: string): Photos {
  const [photos, setPhotos] = useState<readonly WaitingPhoto[]>();
  const [state, setState] = useState<Photos["state"]>();
  const [arrivedCount, setArrivedCount] = useState(0);

  const read = useCallback(async () => {
    const now = await waitingPhotos(userId);
    setPhotos(now);
    return now;
  }, [userId]);

  const send = useCallback(async () => {
    const isDue = (p: WaitingPhoto) => p.isReleased && !p.problems;
    const before = (await read()).filter(isDue);
    if (before.length === 0) return;
    setState("sending");
    setState(await sendPhotos(userId));
    const left = new Set((await read()).map((p) => p.key));
    setArrivedCount((n) => n + before.filter((p) => !left.has(p.key)).length);
  }, [userId, read]);

  useEffect(() => {
    const trySend = () => void send();
    const whenSeen = () => {
      if (document.visibilityState === "visible") trySend();
    };
    const stopHearing = hearPhotos(() => void read());
    trySend();
    window.addEventListener("online", trySend);
    document.addEventListener("visibilitychange", whenSeen);
    return () => {
      stopHearing();
      window.removeEventListener("online", trySend);
      document.removeEventListener("visibilitychange", whenSeen);
    };
  }, [read, send]);

  const change = async (work: Promise<unknown>): Promise<void> => {
    await work;
    await read();
    tellPhotos();
  };

  const sendNow = useCallback(() => void send(), [send]);

  return {
    photos,
    state,
    arrivedCount,
    add: (photo) => change(putPhoto(photo)),
    discard: (key) => change(removeWaitingPhoto(key)),
    sendAgain: async ({ problems: _, ...photo }) => {
      await change(putPhoto(photo));
      await send();
    },
    sendNow,
  };
}
