import type { QrCode } from "@/app/_server/qrCode";

/** Empty rim that readers need around a QR code, in modules. */
const QUIET = 4;

/** Dark on light whatever the theme: readers want it so. */
export function QrPicture({ code, label, side: drawn }: { code: QrCode; label: string; side: string }) {
  const side = code.side + 2 * QUIET;
  return (
    <svg
      role="img"
      aria-label={label}
      viewBox={`${-QUIET} ${-QUIET} ${side} ${side}`}
      width={drawn}
      height={drawn}
      shapeRendering="crispEdges"
    >
      <rect x={-QUIET} y={-QUIET} width={side} height={side} fill="#fff" />
      <path d={code.path} fill="#000" />
    </svg>
  );
}
