"use client";

import { type KeyboardEvent, useEffect, useId, useRef, useState } from "react";
import { Glyph, type GlyphName } from "./Glyph";
import { useWords } from "./language/LanguageProvider";
import { useDismiss } from "./Popover";
import { LiveRegion } from "./Toast";

export interface FindOption {
  id: string;
  /** Options of one group stand together under it. */
  group: string;
  label: string;
  detail?: string;
  glyph?: GlyphName;
}

export interface FindBoxProps<O extends FindOption> {
  label: string;
  placeholder: string;
  query: string;
  onQuery: (query: string) => void;
  /** In the order in which they are shown. */
  options: readonly O[];
  onChoose: (option: O) => void;
  isBusy?: boolean;
  /** Enter while the list still answers to earlier letters. */
  onEnterEarly?: () => void;
  /** Under the field, where nothing was found or typed. */
  hint?: string;
  /** The list takes its room in the page instead of lying over it. */
  isInline?: boolean;
  /** Of the field of a form: it has a label of its own there, and what stands in it is its value. */
  field?: { id: string; "aria-describedby"?: string; "aria-invalid"?: true; required?: boolean };
}

/**
 * A field with a list of what it finds (the combobox pattern: the focus stays in the field, the arrows go through the
 * list, Enter takes the one that is marked, Escape closes).
 */
export function FindBox<O extends FindOption>(props: FindBoxProps<O>) {
  const {
    label,
    placeholder,
    query,
    onQuery,
    options,
    onChoose,
    isBusy,
    hint,
    onEnterEarly,
    isInline = false,
    field,
  } = props;
  const id = useId();
  const { t } = useWords();
  const root = useRef<HTMLDivElement>(null);
  const [isOpen, setIsOpen] = useState(false);
  const [at, setAt] = useState(0);
  const marked = options[Math.min(at, options.length - 1)];
  const shows = (isInline || isOpen) && query.trim() !== "" && options.length > 0;
  useDismiss(isOpen && !isInline, root, () => setIsOpen(false));
  // biome-ignore lint/correctness/useExhaustiveDependencies: another list begins at its first
  useEffect(() => setAt(0), [options]);
  useEffect(() => {
    if (shows) document.getElementById(`${id}-${at}`)?.scrollIntoView({ block: "nearest" });
  }, [shows, at, id]);

  function choose(option: O): void {
    setIsOpen(false);
    onChoose(option);
  }
  function onKeyDown(event: KeyboardEvent): void {
    const steps: Record<string, number> = { ArrowDown: 1, ArrowUp: -1 };
    const step = steps[event.key];
    if (step !== undefined && options.length > 0) {
      event.preventDefault();
      if (shows) setAt((now) => (Math.min(now, options.length - 1) + step + options.length) % options.length);
      else setIsOpen(true);
    } else if (event.key === "Enter" && isBusy && onEnterEarly) {
      event.preventDefault();
      onEnterEarly();
    } else if (event.key === "Enter" && shows && marked) {
      event.preventDefault();
      choose(marked);
    } else if (event.key === "Escape" && !isInline && (shows || (query !== "" && !field))) {
      event.preventDefault();
      event.stopPropagation();
      if (shows) setIsOpen(false);
      else onQuery("");
    }
  }

  // A value that stands in a form from the start asks for nothing.
  const asks = isOpen || field === undefined;
  const groups = [...new Set(options.map((o) => o.group))];
  return (
    <div className="ui-find" data-inline={isInline} ref={root}>
      <div className="ui-find-field">
        <Glyph name="search" />
        <input
          type="text"
          role="combobox"
          className="ui-input"
          aria-label={field ? undefined : label}
          {...field}
          aria-expanded={shows}
          aria-controls={`${id}-list`}
          aria-autocomplete="list"
          aria-activedescendant={shows && marked ? `${id}-${options.indexOf(marked)}` : undefined}
          autoComplete="off"
          spellCheck={false}
          placeholder={placeholder}
          value={query}
          onChange={(event) => {
            setIsOpen(true);
            onQuery(event.target.value);
          }}
          onFocus={() => setIsOpen(true)}
          onKeyDown={onKeyDown}
        />
        {isBusy ? <span className="ui-spinner" aria-hidden="true" /> : null}
      </div>
      <div id={`${id}-list`} role="listbox" aria-label={label} className="ui-find-list" hidden={!shows}>
        {groups.map((group) => (
          // biome-ignore lint/a11y/useSemanticElements: a group of options inside a list box
          <div key={group} role="group" aria-label={group}>
            <div className="ui-find-group" aria-hidden="true">
              {group}
            </div>
            {options
              .filter((o) => o.group === group)
              .map((o) => (
                // biome-ignore lint/a11y/useKeyWithClickEvents: the field hears the keys, the focus stays there
                <div
                  key={o.id}
                  id={`${id}-${options.indexOf(o)}`}
                  role="option"
                  tabIndex={-1}
                  aria-selected={o === marked}
                  className="ui-find-option"
                  onPointerDown={(event) => event.preventDefault()}
                  onClick={() => choose(o)}
                >
                  {o.glyph ? <Glyph name={o.glyph} /> : null}
                  <span className="font-semibold">{o.label}</span>
                  {o.detail ? <span className="ui-find-detail">{o.detail}</span> : null}
                </div>
              ))}
          </div>
        ))}
      </div>
      {!shows && hint && (isInline || isOpen) ? <p className="ui-find-hint">{hint}</p> : null}
      <LiveRegion>
        {shows
          ? t("{{count}} matches shown", { count: options.length })
          : asks && query && !isBusy && options.length === 0
            ? t("no match")
            : ""}
      </LiveRegion>
    </div>
  );
}
