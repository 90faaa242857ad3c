/** Tenths of a second of work follow: what stands already is sent first. */
export function letTheFrameOut(): Promise<void> {
  return new Promise((resolve) => setImmediate(resolve));
}
