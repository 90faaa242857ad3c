"use client";

import { useEffect, useState } from "react";
import { Button } from "./Button";
import { Dialog } from "./Dialog";

export interface KeyRow {
  /** Keys of one combination, each its own cap. */
  keys: readonly string[];
  does: string;
}

/**
 * A button, and the key "?", that list the keys of this page. The key is ignored while one types in a
 * field; nothing else in the product is bound to a single character (WCAG 2.1.4).
 */
export function KeyHelp({ rows, title = "Keys on this page" }: { rows: readonly KeyRow[]; title?: string }) {
  const [open, setOpen] = useState(false);
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      const typing =
        event.target instanceof HTMLElement &&
        event.target.closest("input, textarea, select, [contenteditable]");
      if (event.key === "?" && !typing) setOpen(true);
    };
    document.addEventListener("keydown", onKey);
    return () => document.removeEventListener("keydown", onKey);
  }, []);
  return (
    <>
      <Button kind="plain" size="small" glyph="keyboard" onClick={() => setOpen(true)}>
        Keys
      </Button>
      <Dialog open={open} onClose={() => setOpen(false)} title={title}>
        <table className="ui-facts">
          <thead>
            <tr>
              <th scope="col">Keys</th>
              <th scope="col">What it does</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.does}>
                <td className="whitespace-nowrap">
                  {row.keys.map((key) => (
                    <kbd key={key} className="mr-1">
                      {key}
                    </kbd>
                  ))}
                </td>
                <td>{row.does}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Dialog>
    </>
  );
}
