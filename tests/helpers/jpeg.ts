/** A JPEG file as a phone makes one, put together segment by segment: enough for what reads heads, nothing to look at. */
export const POSITION = "GPSLatitude 46.6";

export interface JpegWanted {
  widthPx?: number;
  heightPx?: number;
  hasFrame?: boolean;
  hasEnd?: boolean;
  /** Bytes after the picture's end. */
  behind?: string;
  /** Bytes of data: makes a large file. */
  dataBytes?: number;
}

export function jpegOf(wanted: JpegWanted = {}): Uint8Array {
  const {
    widthPx = 640,
    heightPx = 480,
    hasFrame = true,
    hasEnd = true,
    behind = "",
    dataBytes = 0,
  } = wanted;
  const segment = (marker: number, content: Buffer) => {
    const head = Buffer.from([0xff, marker, 0, 0]);
    head.writeUInt16BE(content.length + 2, 2);
    return Buffer.concat([head, content]);
  };
  const frame = Buffer.alloc(15);
  frame[0] = 8; // bits of a sample
  frame.writeUInt16BE(heightPx, 1);
  frame.writeUInt16BE(widthPx, 3);
  return Buffer.concat([
    Buffer.from([0xff, 0xd8]),
    segment(0xe0, Buffer.from("JFIF\0")),
    segment(0xe1, Buffer.from(`Exif\0\0${POSITION}`)),
    segment(0xe2, Buffer.from("ICC_PROFILE\0")),
    segment(0xed, Buffer.from("Photoshop 3.0\0")),
    segment(0xfe, Buffer.from("a comment")),
    ...(hasFrame ? [segment(0xc0, frame)] : []),
    segment(0xda, Buffer.from("scan")),
    Buffer.from("the data\xff\0 goes on", "latin1"),
    Buffer.alloc(dataBytes, 7),
    ...(hasEnd ? [Buffer.from([0xff, 0xd9])] : []),
    Buffer.from(behind),
  ]);
}
