/** A picture from the camera or a file, as it is kept and sent: upright, scaled down, JPEG without position or device. */
import { scaledSize } from "@/lib/photos";

const QUALITY = 0.82;

/** Undefined when this browser cannot read the file as a picture. */
export async function scaledJpeg(file: Blob): Promise<ArrayBuffer | undefined> {
  // The camera says in the file which way is up; the browser turns it, and drawing anew leaves everything else behind.
  const picture = await createImageBitmap(file, { imageOrientation: "from-image" }).catch(() => undefined);
  if (!picture) return undefined;
  const { widthPx, heightPx } = scaledSize(picture.width, picture.height);
  const canvas = document.createElement("canvas");
  canvas.width = widthPx;
  canvas.height = heightPx;
  canvas.getContext("2d")?.drawImage(picture, 0, 0, widthPx, heightPx);
  picture.close();
  const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, "image/jpeg", QUALITY));
  return blob?.arrayBuffer();
}
