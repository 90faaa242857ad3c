const YEAR_SECONDS = 366 * 24 * 3600;

/** Keeps a preference on this device for a year; the server reads it with the next request. */
export function keepOnDevice(name: string, value: string): void {
  // biome-ignore lint/suspicious/noDocumentCookie: a preference of this device, no secret; not every browser has the other way
  document.cookie = `${name}=${value}; path=/; max-age=${YEAR_SECONDS}; samesite=lax`;
}
