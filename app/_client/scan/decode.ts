/** Reads a QR code in a picture: by the browser where it can, else by a library that came with the page. */

/** As much of the browser's own detector as is used here; not every browser has it. */
interface Detector {
  detect(source: CanvasImageSource): Promise<{ rawValue: string }[]>;
}
interface DetectorKind {
  new (options: { formats: string[] }): Detector;
  getSupportedFormats(): Promise<string[]>;
}

const BARCODES = ["qr_code", "code_128", "code_39", "ean_13", "data_matrix"];

/** The browser's detector with the codes it knows; undefined where there is none, or none for QR codes. */
async function ownDetector(): Promise<Detector | undefined> {
  const Kind = (globalThis as { BarcodeDetector?: DetectorKind }).BarcodeDetector;
  if (!Kind) return undefined;
  try {
    const known = await Kind.getSupportedFormats();
    if (!known.includes("qr_code")) return undefined;
    return new Kind({ formats: BARCODES.filter((f) => known.includes(f)) });
  } catch {
    return undefined; // there by name only, as on some desktops
  }
}

export type ReadFrame = (video: HTMLVideoElement) => Promise<string | undefined>;

/** Long side of the picture that the library looks at, pixels: enough for a label at arm's length. */
const LONG_SIDE = 800;

/** A way to read frames of a video, chosen once. Nothing is sent anywhere. */
export async function frameReader(): Promise<ReadFrame> {
  const own = await ownDetector();
  if (own) return async (video) => (await own.detect(video))[0]?.rawValue;
  const { default: decodeQr } = await import("qr/decode.js");
  const canvas = document.createElement("canvas");
  const context = canvas.getContext("2d", { willReadFrequently: true });
  return async (video) => {
    const scale = Math.min(1, LONG_SIDE / Math.max(video.videoWidth, video.videoHeight));
    canvas.width = Math.round(video.videoWidth * scale);
    canvas.height = Math.round(video.videoHeight * scale);
    if (!context || canvas.width === 0) return undefined;
    context.drawImage(video, 0, 0, canvas.width, canvas.height);
    try {
      return decodeQr(context.getImageData(0, 0, canvas.width, canvas.height));
    } catch {
      return undefined; // no code in this frame
    }
  };
}
