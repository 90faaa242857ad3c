/** "Access": on site only while the site is open. */
export const ACCESS = {
  name: "access",
  text: (weekday: string) => `the site is closed on ${weekday}`,
};
