/** A text as a QR code, drawn by the page itself: nothing is fetched, no other host learns the text. */
import qrcode from "qrcode-generator";

// Readers take bytes for UTF-8; the library's own way keeps a letter's lowest byte only.
qrcode.stringToBytes = (text) => [...new TextEncoder().encode(text)];

export interface QrCode {
  /** Modules on a side, without the quiet zone. */
  side: number;
  /** An SVG path in modules: one square for each dark one. */
  path: string;
}

export function qrCode(text: string): QrCode {
  const code = qrcode(0, "M"); // the smallest size that holds it
  code.addData(text);
  code.make();
  const side = code.getModuleCount();
  const dark: string[] = [];
  for (let row = 0; row < side; row++)
    for (let column = 0; column < side; column++)
      if (code.isDark(row, column)) dark.push(`M${column} ${row}h1v1h-1z`);
  return { side, path: dark.join("") };
}
