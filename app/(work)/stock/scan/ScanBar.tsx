"use client";

import { useRouter } from "next/navigation";
import { ScanField } from "@/app/_client/scan/ScanField";

/** What is scanned stands in the address, so that going back shows the one before. */
export function ScanBar() {
  const router = useRouter();
  return (
    <ScanField
      label="Label or barcode"
      hint="Scan with a scanner, type a serial or code and press Enter, or use the camera."
      hasFocus
      onScan={(text) => router.push(`/stock/scan?code=${encodeURIComponent(text)}`)}
    />
  );
}
