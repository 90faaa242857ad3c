/** Bytes as a download: never drawn by the browser, never kept by what lies between. */
const TYPES = {
  csv: "text/csv; charset=utf-8",
  ics: "text/calendar; charset=utf-8",
  pdf: "application/pdf",
  xlsx: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
} as const;

export type FileFormat = keyof typeof TYPES;

/** @param name without its ending; what is no plain letter, digit, dot or dash becomes "_" */
export function fileAnswer(name: string, format: FileFormat, bytes: Uint8Array): Response {
  return new Response(bytes as BodyInit, {
    headers: {
      "Content-Type": TYPES[format],
      "Content-Disposition": `attachment; filename="${name.replace(/[^A-Za-z0-9._-]/g, "_")}.${format}"`,
      "Cache-Control": "no-store",
      "X-Content-Type-Options": "nosniff",
    },
  });
}
