import { OWN_LANGUAGE } from "@/app/_ui/language/languages";
import type { Words } from "@/app/_ui/language/words";
import { LOG_ACTIONS, type LogAction } from "@/db/queries/log";

/** Actions whose words in the reader's language hold what was typed; in English the log itself is searched. */
export const actionsSaid =
  ({ language, locale, t }: Words) =>
  (word: string): LogAction[] => {
    if (language === OWN_LANGUAGE) return [];
    const typed = word.toLocaleLowerCase(locale);
    return LOG_ACTIONS.filter((action) => t(action).toLocaleLowerCase(locale).includes(typed));
  };
