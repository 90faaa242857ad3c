/** "Kept": what a person pinned, and what lies in the frozen days, stays as it is. */
export const KEPT = {
  name: "kept",
  text: () => "a pinned or frozen visit leaves no room for it",
};
