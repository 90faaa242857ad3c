"use client";

import { Button } from "./Button";

export function PrintButton() {
  return (
    <Button kind="primary" onClick={() => window.print()}>
      Print
    </Button>
  );
}
