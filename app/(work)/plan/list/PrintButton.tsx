"use client";

import { Button } from "@/app/_ui/Button";

export function PrintButton() {
  return (
    <Button kind="primary" onClick={() => window.print()}>
      Print
    </Button>
  );
}
