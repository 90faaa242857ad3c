"use client";

import { useWords } from "../language/LanguageProvider";
import { FACTOR_LOOK } from "./factors";

/** What the fills and letters of the weather drawings mean, and where the figures come from. */
export function WeatherKey({ source }: { source?: string }) {
  const { t } = useWords();
  const letters = Object.values(FACTOR_LOOK).filter((entry) => entry.letter !== "");
  return (
    <div className="ui-weather-key">
      <ul>
        <li>
          <span className="ui-weather-swatch" data-look="met" /> {t("planning limits met")}
        </li>
        {letters.map((entry) => (
          <li key={entry.letter}>
            <span className="ui-weather-swatch" data-look={entry.look}>
              {entry.letter}
            </span>{" "}
            {t(entry.word)}
          </li>
        ))}
      </ul>
      <p>
        {source ? `${source}. ` : ""}
        {t('Limits met is not "safe": the crew on site decides.')}
      </p>
    </div>
  );
}
