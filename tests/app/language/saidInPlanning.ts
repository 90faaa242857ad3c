import { BOARD_KEYS } from "@/app/_ui/board/BoardKey";
import { KIND_LOOK, KIT_LOOK, WEATHER_LOOK, ZOOMS } from "@/app/_ui/board/types";
import { CLASS_WORDS, FACTOR_LOOK } from "@/app/_ui/weather/factors";
import { BOARD_FILTERS } from "@/app/(work)/plan/boardFilter";
import { STAGES } from "@/app/(work)/plan/solve/SolveForm";
import { COST_LINES, SETTLED } from "@/lib/programme";
import { REASONS } from "@/lib/schedule";

/** Texts that pages of the area planning say through a variable. */
export const SAID_IN_PLANNING: readonly string[] = [
  ...BOARD_KEYS.flat(),
  ...[KIND_LOOK, KIT_LOOK, WEATHER_LOOK, FACTOR_LOOK].flatMap((looks) =>
    Object.values(looks).map((look) => look.word),
  ),
  ...Object.keys(ZOOMS).filter((zoom) => /\d/.test(zoom)),
  ...Object.values(CLASS_WORDS),
  ...Object.values(BOARD_FILTERS).map((filter) => filter.label),
  ...Object.values(STAGES),
  ...COST_LINES.flatMap((line) => [line.label, line.unit]),
  ...SETTLED,
  ...REASONS,
  // States of plans and of kits.
  ...["draft", "in force", "past"],
  ...["ready", "expected", "short", "issued", "planned", "picked"],
];
