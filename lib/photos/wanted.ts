/** Which photos are wanted of each kind of visit. Common practice of rollouts; a customer's own list comes first. */
import type { VisitKind } from "@/lib/schedule";

export interface PhotoSubject {
  id: string;
  /** As the crew reads it. */
  name: string;
  /** Kinds of visit after which it is missed. */
  kinds: readonly VisitKind[];
}

export const PHOTO_SUBJECTS: readonly PhotoSubject[] = [
  { id: "earthing", name: "Earthing", kinds: ["install", "revisit"] },
  { id: "weatherproofing", name: "Weatherproofing", kinds: ["install", "revisit"] },
  { id: "label", name: "Label", kinds: ["install"] },
  { id: "antenna bearing", name: "Antenna bearing", kinds: ["install", "alignment"] },
  { id: "meter", name: "Meter with the reading", kinds: ["alignment", "acceptance"] },
  { id: "other", name: "Other", kinds: [] },
];

export const isPhotoSubject = (id: string): boolean => PHOTO_SUBJECTS.some((s) => s.id === id);

export const photoSubjectName = (id: string): string => PHOTO_SUBJECTS.find((s) => s.id === id)?.name ?? id;

/** Subjects of this kind of visit of which there is no photo yet. */
export function missingPhotos(kind: VisitKind, taken: readonly string[]): PhotoSubject[] {
  return PHOTO_SUBJECTS.filter((s) => s.kinds.includes(kind) && !taken.includes(s.id));
}
