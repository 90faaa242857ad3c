/** "Gate": nothing starts before its gates are open. */
export const RELEASE = {
  name: "gate",
  text: (day: string) => `its gates open only on ${day}`,
};
