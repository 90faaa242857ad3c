import { Disclosure } from "../Disclosure";
import { Glyph } from "../Glyph";
import { KIND_LOOK, KIT_LOOK, WEATHER_LOOK } from "./types";

/** What signs and fills on the board mean. */
export function BoardKey() {
  return (
    <div className="px-4">
      <Disclosure summary="Signs on the board">
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
      </Disclosure>
    </div>
  );
}
