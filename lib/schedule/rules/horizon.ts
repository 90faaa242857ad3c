/** "Horizon": the visit must end inside the plan's days. */
export const HORIZON = {
  name: "horizon",
  text: (days: number) => `it would not end within the ${days} days of the plan`,
};
