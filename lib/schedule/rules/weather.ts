/** "Weather": each step in hours that are open for its work class; an unbroken stretch where it may not pause. */
export const WEATHER = {
  name: "weather",
  text: (workClass: string) => `no hours are open long enough for ${workClass} work`,
};
