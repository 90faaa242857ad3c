/** The body of a request, up to a limit. */

/** The body, or undefined as soon as it is longer than `most`: what comes after is not waited for. */
export async function bytesUpTo(request: Request, most: number): Promise<Uint8Array | undefined> {
  if (Number(request.headers.get("content-length") ?? 0) > most) return undefined;
  const parts: Uint8Array[] = [];
  let size = 0;
  const reader = request.body?.getReader();
  if (!reader) return new Uint8Array();
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    size += value.byteLength;
    if (size > most) {
      await reader.cancel();
      return undefined;
    }
    parts.push(value);
  }
  return Buffer.concat(parts);
}
