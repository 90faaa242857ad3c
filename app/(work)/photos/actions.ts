"use server";

import { defineAction } from "@/app/_server/action";
import { removePhoto } from "@/app/_server/photoEdits";
import { parseVisitId } from "@/lib/programme";

export const deletePhoto = defineAction({
  ...removePhoto,
  revalidate: ({ visitId }) => [`/week/visit/${visitId}`, `/hops/${parseVisitId(visitId)?.hopCode}`],
});
