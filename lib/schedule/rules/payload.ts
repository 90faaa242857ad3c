/** "Payload": the kits of the visits begun between two stops at the depot fit the vehicle together. */
export const PAYLOAD = {
  name: "payload",
  text: (loadKg: number, maxKg: number) =>
    `the load of ${Math.round(loadKg)} kg is over the ${Math.round(maxKg)} kg of the vehicle`,
};
