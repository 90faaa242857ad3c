import { Disclosure } from "../Disclosure";
import { Glyph } from "../Glyph";
import { useWords } from "../language/LanguageProvider";
import { KIND_LOOK, KIT_LOOK, REPORT_LOOK, WEATHER_LOOK } from "./types";

export const BOARD_KEYS: readonly (readonly [string, string])[] = [
  ["Arrows", "to another crew or day; Page up and down by a week"],
  ["Enter", "select the cell's visits in turn; drop the one that is being moved"],
  ["M", "take up the selected visit; then arrows and Enter to its new place"],
  ["Space", "pick the cell's visits for a change of several"],
  ["Ctrl or Shift and a press", "pick one more, or all between"],
  ["Ctrl+Z, Ctrl+Shift+Z", "undo and redo your own edits"],
  ["Escape", "let go"],
];

/** What signs and fills on the board mean, and what its keys do. */
export function BoardKey() {
  const { t } = useWords();
  return (
    <div className="px-4">
      <Disclosure summary={t("Signs and keys")}>
        <ul className="ui-board-key">
          {Object.entries(KIND_LOOK).map(([kind, look]) => (
            <li key={kind}>
              <span className="ui-visit-swatch" data-kind={kind}>
                <Glyph name={look.glyph} />
              </span>
              {t(look.word)}
            </li>
          ))}
          <li>
            <Glyph name="late" /> {t("after the promise date")}
          </li>
          <li>
            <Glyph name="people-short" /> {t("its crew lacks people for it")}
          </li>
          <li>
            <Glyph name="pinned" /> {t("pinned by a person")}
          </li>
          {[REPORT_LOOK, WEATHER_LOOK, KIT_LOOK]
            .flatMap((looks) => Object.values(looks))
            .map((look) => (
              <li key={look.word}>
                <Glyph name={look.glyph} /> {t(look.word)}
              </li>
            ))}
          <li>
            <span className="ui-unit">9 h</span> {t("hours of the day within the limits for work aloft")}
          </li>
          <li>
            <Glyph name="locked" /> {t("settled day, cannot change")}
          </li>
          <li>
            <span className="ui-board-swatch-off" /> {t("crew off")}
          </li>
        </ul>
        <dl className="ui-board-keys">
          {BOARD_KEYS.map(([key, words]) => (
            <div key={key}>
              <dt>{t(key)}</dt>
              <dd>{t(words)}</dd>
            </div>
          ))}
        </dl>
      </Disclosure>
    </div>
  );
}
