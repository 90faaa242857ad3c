/** "Weekly hours": minutes from shift start to the end of each day, summed over the ISO week. */
export const WEEKLY_HOURS = {
  name: "weekly hours",
  text: (maxMin: number) => `the crew would pass its ${Math.round(maxMin / 60)} h in that week`,
};
