/** "Horizon": the visit must end inside the plan's days. */
import { counted } from "../counted";

export const HORIZON = {
  name: "horizon",
  text: (days: number) => `it would not end within the ${counted(days, "day")} of the plan`,
};
