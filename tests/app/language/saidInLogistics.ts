import { LEFT_WORDS } from "@/app/_ui/DrumDrawing";
import { LOOK as KIT_STATES } from "@/app/(work)/kits/KitStateMark";
import { UNITS } from "@/lib/site";

/** Texts that pages of the area logistics say through a variable. */
export const SAID_IN_LOGISTICS: readonly string[] = [
  ...Object.values(KIT_STATES).map((s) => s.word),
  ...Object.values(LEFT_WORDS),
  // Beside a field for a quantity.
  ...UNITS.filter((unit) => unit.length > 1),
  // A transfer's state.
  ...["proposed", "planned"],
];
