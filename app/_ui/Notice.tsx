import type { ReactNode } from "react";
import { SaidGlyph } from "./language/SaidGlyph";

export interface NoticeProps {
  kind: "info" | "good" | "warn" | "problem" | "hold";
  title?: ReactNode;
  children?: ReactNode;
  /** A button or link that acts on it. */
  action?: ReactNode;
  /** Speak it when it appears: for an answer to something the person just did. */
  announce?: boolean;
}

const GLYPH = { info: "info", good: "met", warn: "warn", problem: "fail", hold: "hold" } as const;
/** Spoken for the sign. */
export const NOTICE_WORDS = {
  info: "Note",
  good: "Done",
  warn: "Check",
  problem: "Problem",
  hold: "Hold",
} as const;

/** A message that stays in the page. */
export function Notice({ kind, title, children, action, announce = false }: NoticeProps) {
  const role = announce ? (kind === "problem" ? "alert" : "status") : undefined;
  return (
    <div className="ui-notice" data-tone={kind} role={role}>
      <SaidGlyph name={GLYPH[kind]} label={NOTICE_WORDS[kind]} />
      <div>
        {title ? <p className="ui-notice-title">{title}</p> : null}
        {children}
      </div>
      {action ? <div className="ui-notice-action">{action}</div> : null}
    </div>
  );
}
