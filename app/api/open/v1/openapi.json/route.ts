import { openApiDocument } from "@/app/_server/openInterface/document";

/** What the interface offers; needs no key, and tells nothing of the data. */
export function GET(): Response {
  return Response.json(openApiDocument());
}
