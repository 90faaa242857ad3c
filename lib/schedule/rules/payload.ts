/** "Payload": the kits of the visits begun between two stops at the depot fit the vehicle together. */
export const PAYLOAD = {
  name: "payload",
  text: (maxKg: number) => `the kits together are over the ${Math.round(maxKg)} kg of the vehicle`,
};
