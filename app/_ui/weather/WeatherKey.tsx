import { FACTOR_LOOK } from "./factors";

/** What the fills and letters of the weather drawings mean, and where the figures come from. */
export function WeatherKey({ source }: { source?: string }) {
  const letters = Object.values(FACTOR_LOOK).filter((entry) => entry.letter !== "");
  return (
    <div className="ui-weather-key">
      <ul>
        <li>
          <span className="ui-weather-swatch" data-look="met" /> planning limits met
        </li>
        {letters.map((entry) => (
          <li key={entry.letter}>
            <span className="ui-weather-swatch" data-look={entry.look}>
              {entry.letter}
            </span>{" "}
            {entry.word}
          </li>
        ))}
      </ul>
      <p>{source ? `${source}. ` : ""}Limits met is not "safe": the crew on site decides.</p>
    </div>
  );
}
