"use client";

import Link from "next/link";
import { usePathname } from "next/navigation";
import { useEffect, useId, useRef, useState } from "react";
import { Glyph } from "./Glyph";
import { useWords } from "./language/LanguageProvider";
import { OWN_LANGUAGE } from "./language/languages";
import { isCurrent, type NavPerson, placesFor, thumbPlaces } from "./nav";
import { useDismiss } from "./Popover";

/** Main navigation on a wide screen. */
export function MainNav({ person }: { person: NavPerson }) {
  const pathname = usePathname();
  const { t, language } = useWords();
  return (
    <nav className="ui-nav" aria-label={t("Main")}>
      <ul>
        {placesFor(person).map((place) => {
          const current = isCurrent(place, pathname);
          return (
            <li key={place.href}>
              <Link className="ui-nav-link" href={place.href} aria-current={current ? "page" : undefined}>
                {/* Other languages have longer words, and the bar is as wide as English asks. */}
                {language === OWN_LANGUAGE ? t(place.label) : t(place.short)}
                {current ? <span className="ui-span-line" aria-hidden="true" /> : null}
              </Link>
            </li>
          );
        })}
      </ul>
    </nav>
  );
}

/** The same places at the thumb on a phone or a narrow window. */
export function ThumbNav({ person }: { person: NavPerson }) {
  const pathname = usePathname();
  const { t } = useWords();
  const [open, setOpen] = useState(false);
  const root = useRef<HTMLElement>(null);
  const moreId = useId();
  const { first, rest } = thumbPlaces(person);
  useDismiss(open, root, () => setOpen(false));
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new page closes the list
  useEffect(() => setOpen(false), [pathname]);

  return (
    <nav
      ref={root}
      className="ui-thumb ui-no-print"
      aria-label={t("Main, short")}
      onKeyDown={(event) => {
        if (event.key !== "Escape" || !open) return;
        setOpen(false);
        root.current?.querySelector("button")?.focus();
      }}
    >
      {open ? (
        <ul className="ui-thumb-more" id={moreId}>
          {rest.map((place) => (
            <li key={place.href}>
              <Link href={place.href} aria-current={isCurrent(place, pathname) ? "page" : undefined}>
                <Glyph name={place.glyph} />
                {t(place.label)}
              </Link>
            </li>
          ))}
        </ul>
      ) : null}
      <ul>
        {first.map((place) => {
          const current = isCurrent(place, pathname);
          return (
            <li key={place.href}>
              <Link className="ui-thumb-link" href={place.href} aria-current={current ? "page" : undefined}>
                {current ? <span className="ui-span-line" aria-hidden="true" /> : null}
                <Glyph name={place.glyph} />
                {t(place.short)}
              </Link>
            </li>
          );
        })}
        {rest.length > 0 ? (
          <li>
            <button
              type="button"
              className="ui-thumb-link"
              aria-expanded={open}
              aria-controls={moreId}
              onClick={() => setOpen(!open)}
            >
              <Glyph name={open ? "close" : "more"} />
              {t("More")}
            </button>
          </li>
        ) : null}
      </ul>
    </nav>
  );
}
