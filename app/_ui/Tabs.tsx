"use client";

import Link from "next/link";
import { type ReactNode, useEffect, useRef } from "react";

export interface Tab {
  href: string;
  label: ReactNode;
  /** Figure beside the label: how many are in it. */
  count?: string | number;
  current: boolean;
}

export interface TabsProps {
  label: string;
  tabs: readonly Tab[];
  /** At the end of the same line, where there is room. */
  beside?: ReactNode;
}

/** Views of one page as links: each has its own address, so it can be sent and kept. */
export function Tabs({ label, tabs, beside }: TabsProps) {
  const strip = useRef<HTMLElement>(null);
  const current = tabs.find((tab) => tab.current)?.href;
  const shownBefore = useRef<string>(undefined);
  // On a phone the strip is wider than the screen: the chosen view's name comes into sight. A strip that a
  // finger has moved before the page's code was there stays: moving it back would lose the press that follows.
  useEffect(() => {
    const nav = strip.current;
    const chosen = current && nav?.querySelector<HTMLElement>('[aria-current="page"]');
    if (!nav || !chosen) return;
    const isMovedByHand = shownBefore.current === undefined && nav.scrollLeft > 0;
    shownBefore.current = current;
    if (isMovedByHand) return;
    nav.scrollLeft = chosen.offsetLeft - nav.offsetLeft - (nav.clientWidth - chosen.offsetWidth) / 2;
  }, [current]);
  return (
    <div className="ui-tabs-line">
      <nav className="ui-tabs" aria-label={label} ref={strip}>
        {tabs.map((tab) => (
          <Link
            key={tab.href}
            className="ui-tab"
            href={tab.href}
            aria-current={tab.current ? "page" : undefined}
          >
            {tab.label}
            {tab.count === undefined ? null : <span className="ui-tab-count">{tab.count}</span>}
            {tab.current ? <span className="ui-span-line" aria-hidden="true" /> : null}
          </Link>
        ))}
      </nav>
      {beside}
    </div>
  );
}
