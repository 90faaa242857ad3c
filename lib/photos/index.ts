export { crc32 } from "./crc32";
export { type CleanJpeg, cleanJpeg } from "./jpeg";
export {
  isPhotoKey,
  PHOTO_MOST_BYTES,
  PHOTO_SIDE_PX,
  PHOTOS_MOST_PER_VISIT,
  PIECE_BYTES,
  scaledSize,
  takePhoto,
} from "./photos";
export { isPhotoSubject, missingPhotos, PHOTO_SUBJECTS, type PhotoSubject, photoSubjectName } from "./wanted";
