"use client";

import { useRouter } from "next/navigation";
import { ScanField } from "@/app/_client/scan/ScanField";
import { useWords } from "@/app/_ui/language/LanguageProvider";

/** What is scanned stands in the address, so that going back shows the one before. */
export function ScanBar() {
  const { t } = useWords();
  const router = useRouter();
  return (
    <ScanField
      label={t("Label or barcode")}
      hint={t("Scan with a scanner, type a serial or code and press Enter, or use the camera.")}
      hasFocus
      onScan={(text) => router.push(`/stock/scan?code=${encodeURIComponent(text)}`)}
    />
  );
}
