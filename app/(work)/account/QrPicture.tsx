import type { QrCode } from "@/app/_server/qrCode";

/** Empty rim that readers need around a QR code, in modules. */
const QUIET = 4;

/** Dark on light whatever the theme: readers want it so. */
export function QrPicture({ code }: { code: QrCode }) {
  const side = code.side + 2 * QUIET;
  return (
    <svg
      role="img"
      aria-label="The key as a picture for the app to read"
      viewBox={`${-QUIET} ${-QUIET} ${side} ${side}`}
      width="220"
      height="220"
      shapeRendering="crispEdges"
    >
      <rect x={-QUIET} y={-QUIET} width={side} height={side} fill="#fff" />
      <path d={code.path} fill="#000" />
    </svg>
  );
}
