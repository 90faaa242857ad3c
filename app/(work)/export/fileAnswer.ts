/** Bytes as a download. */
const TYPES = {
  csv: "text/csv; charset=utf-8",
  xlsx: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
} as const;

export type FileFormat = keyof typeof TYPES;

/** @param name without its ending; plain letters, digits and dashes */
export function fileAnswer(name: string, format: FileFormat, bytes: Uint8Array): Response {
  return new Response(bytes as BodyInit, {
    headers: {
      "Content-Type": TYPES[format],
      "Content-Disposition": `attachment; filename="${name}.${format}"`,
      "Cache-Control": "no-store",
    },
  });
}
