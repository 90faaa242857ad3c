/** Puts one key into the address without loading the page anew; undefined takes it out. */
export function keepInAddress(key: string, value: string | undefined): void {
  const url = new URL(window.location.href);
  if (value === undefined) url.searchParams.delete(key);
  else url.searchParams.set(key, value);
  // Without a state of ours the router takes the address over; with its own it would put the old one back later.
  window.history.replaceState(null, "", url);
}
