"use client";

import {
  createContext,
  type ReactNode,
  useCallback,
  useContext,
  useEffect,
  useMemo,
  useRef,
  useState,
} from "react";
import { Button } from "./Button";
import { Glyph } from "./Glyph";
import { useWords } from "./language/LanguageProvider";

export interface ToastMessage {
  kind: "good" | "info" | "problem";
  text: string;
  /** For example undo. Such a toast stays until it is closed. */
  action?: { label: string; run: () => void };
}

interface Shown extends ToastMessage {
  id: number;
}

interface Toasts {
  show: (message: ToastMessage) => void;
  /** Takes away what told of a success: beside a refusal it reads as the answer to it. Undo stays. */
  dropGood: () => void;
}

const ToastContext = createContext<Toasts>({ show: () => {}, dropGood: () => {} });

const STAY_MILLIS = 6_000;

/** Holds the toasts of the app and speaks them. Once, around the shell. */
export function ToastProvider({ children }: { children: ReactNode }) {
  const [shown, setShown] = useState<readonly Shown[]>([]);
  const next = useRef(1);
  const show = useCallback((message: ToastMessage) => {
    const id = next.current++;
    setShown((list) => [...list.slice(-3), { ...message, id }]);
  }, []);
  const dropGood = useCallback(
    () => setShown((list) => list.filter((toast) => toast.kind !== "good" || toast.action)),
    [],
  );
  const toasts = useMemo(() => ({ show, dropGood }), [show, dropGood]);
  const { t } = useWords();
  const close = useCallback((id: number) => setShown((list) => list.filter((toast) => toast.id !== id)), []);
  return (
    <ToastContext value={toasts}>
      {children}
      <section className="ui-toasts ui-no-print" aria-label={t("Messages")} aria-live="polite">
        {shown.map((toast) => (
          <ToastCard key={toast.id} toast={toast} onClose={() => close(toast.id)} />
        ))}
      </section>
    </ToastContext>
  );
}

function ToastCard({ toast, onClose }: { toast: Shown; onClose: () => void }) {
  const [held, setHeld] = useState(false);
  const close = useRef(onClose);
  const { t } = useWords();
  useEffect(() => {
    close.current = onClose;
  });
  // A problem and an undo stay: nobody should have to read or act against a clock (WCAG 2.2.1).
  const stays = toast.kind === "problem" || toast.action !== undefined || held;
  useEffect(() => {
    if (stays) return;
    const timer = setTimeout(() => close.current(), STAY_MILLIS);
    return () => clearTimeout(timer);
  }, [stays]);
  return (
    <div
      className="ui-toast"
      data-tone={toast.kind}
      onPointerEnter={() => setHeld(true)}
      onPointerLeave={() => setHeld(false)}
    >
      <Glyph name={toast.kind === "problem" ? "fail" : toast.kind === "good" ? "met" : "info"} />
      <p>{toast.text}</p>
      {toast.action ? (
        <Button
          size="small"
          onClick={() => {
            toast.action?.run();
            onClose();
          }}
        >
          {toast.action.label}
        </Button>
      ) : null}
      <Button kind="plain" size="small" glyph="close" label={t("Close message")} onClick={onClose} />
    </div>
  );
}

/** `const toast = useToast(); toast({ kind: "good", text: "Kit K-014 issued" })`. */
export function useToast(): Toasts["show"] {
  return useContext(ToastContext).show;
}

export function useDropGoodToasts(): Toasts["dropGood"] {
  return useContext(ToastContext).dropGood;
}

/** Speaks its text when it changes, without showing it: row counts after a filter, progress steps. */
export function LiveRegion({ children }: { children: ReactNode }) {
  return (
    <div className="sr-only" role="status" aria-live="polite">
      {children}
    </div>
  );
}
