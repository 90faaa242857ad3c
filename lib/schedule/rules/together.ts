/** "Together": the ends of joint work start in the same minute with two crews, and both stay until both are done. */
export const TOGETHER = {
  name: "together",
  text: (other: string) => `no two crews can be at both ends at once (with ${other})`,
};
