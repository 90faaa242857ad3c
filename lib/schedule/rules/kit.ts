/** "Kit": nothing starts before its kit can be whole. */
export const KIT = {
  name: "kit",
  text: (day: string) => `its kit can be whole only on ${day}`,
  shared: (items: string) => `other kits take what there is of ${items} by then`,
};
