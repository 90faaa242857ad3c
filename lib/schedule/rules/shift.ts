/** "Shift": out and back within the shift and the overtime allowed. */
export const SHIFT = {
  name: "shift",
  full: () => "the crews' days are full of other work",
  text: () => "travel, set-up and work do not fit in the shift and its overtime",
};
