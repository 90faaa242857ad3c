import { Disclosure } from "../Disclosure";
import { Glyph } from "../Glyph";
import { KIND_LOOK, KIT_LOOK, WEATHER_LOOK } from "./types";

const KEYS: readonly (readonly [string, string])[] = [
  ["Arrows", "to another crew or day; Page up and down by a week"],
  ["Enter", "select the cell's visits in turn; drop the one that is being moved"],
  ["Space", "pick the cell's visits for a change of several"],
  ["Ctrl or Shift and a press", "pick one more, or all between"],
  ["Ctrl+Z, Ctrl+Shift+Z", "undo and redo your own edits"],
  ["Escape", "let go"],
];

/** What signs and fills on the board mean, and what its keys do. */
export function BoardKey() {
  return (
    <div className="px-4">
      <Disclosure summary="Signs and keys">
        <ul className="ui-board-key">
          {Object.entries(KIND_LOOK).map(([kind, look]) => (
            <li key={kind}>
              <span className="ui-visit-swatch" data-kind={kind}>
                <Glyph name={look.glyph} />
              </span>
              {look.word}
            </li>
          ))}
          <li>
            <Glyph name="late" /> after the promise date
          </li>
          <li>
            <Glyph name="pinned" /> pinned by a person
          </li>
          {[...Object.values(WEATHER_LOOK), ...Object.values(KIT_LOOK)].map((look) => (
            <li key={look.word}>
              <Glyph name={look.glyph} /> {look.word}
            </li>
          ))}
          <li>
            <Glyph name="locked" /> settled day, cannot change
          </li>
          <li>
            <span className="ui-board-swatch-off" /> crew off
          </li>
        </ul>
        <dl className="ui-board-keys">
          {KEYS.map(([key, words]) => (
            <div key={key}>
              <dt>{key}</dt>
              <dd>{words}</dd>
            </div>
          ))}
        </dl>
      </Disclosure>
    </div>
  );
}
