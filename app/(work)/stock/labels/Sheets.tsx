import { serverWords } from "@/app/_server/language";
import { qrCode } from "@/app/_server/qrCode";
import { QrPicture } from "@/app/_ui/QrPicture";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import type { LabelRow } from "@/db/queries/labels";
import {
  LABEL_RIM_MM,
  LABEL_SHEETS,
  type LabelSheetKey,
  labelText,
  qrSideMm,
  type Slot,
  slotsOf,
} from "@/lib/labels";

/** Labels on A4 as they will be printed. */
export async function Sheets({
  rows,
  size,
  used,
}: {
  rows: readonly LabelRow[];
  size: LabelSheetKey;
  used: number;
}) {
  const { t } = await serverWords();
  const slots = slotsOf(LABEL_SHEETS[size], rows.length, used);
  const pages = Array.from({ length: (slots.at(-1)?.page ?? -1) + 1 }, (_, page) => page);
  return (
    <ScrollRegion label={t("Sheets to print")} className="ui-label-sheets">
      {pages.map((page) => (
        <ul key={page} className="ui-label-sheet" aria-label={t("Sheet {{page}}", { page: page + 1 })}>
          {rows.map((row, i) =>
            slots[i]?.page === page ? (
              <OneLabel key={`${row.kind} ${row.code}`} row={row} size={size} slot={slots[i]} />
            ) : null,
          )}
        </ul>
      ))}
    </ScrollRegion>
  );
}

async function OneLabel({ row, size, slot }: { row: LabelRow; size: LabelSheetKey; slot: Slot }) {
  const { t, say } = await serverWords();
  const words = (text: LabelRow["title"]) => (typeof text === "string" ? text : say(text));
  const { widthMm, heightMm } = LABEL_SHEETS[size];
  return (
    <li
      className="ui-label"
      data-size={size}
      style={{
        left: `${slot.leftMm}mm`,
        top: `${slot.topMm}mm`,
        width: `${widthMm}mm`,
        height: `${heightMm}mm`,
        padding: `${LABEL_RIM_MM}mm`,
        boxSizing: "border-box",
      }}
    >
      <QrPicture
        code={qrCode(labelText(row))}
        label={t("Code of {{code}}", { code: row.code })}
        side={`${qrSideMm(LABEL_SHEETS[size])}mm`}
      />
      <div>
        <strong>{words(row.title)}</strong>
        {row.lines.map(words).map((line) => (
          <span key={line} className="block">
            {line}
          </span>
        ))}
      </div>
    </li>
  );
}
