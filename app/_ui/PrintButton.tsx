"use client";

import { Button } from "./Button";
import { T } from "./language/T";

export function PrintButton() {
  return (
    <Button kind="primary" onClick={() => window.print()}>
      <T>Print</T>
    </Button>
  );
}
