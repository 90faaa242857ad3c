import { serverWords } from "@/app/_server/language";

/** So many rows of a table stand on the page; the export has all. */
export const ROWS_SHOWN = 60;

export async function More({ count }: { count: number }) {
  const { t } = await serverWords();
  return count > 0 ? (
    <p className="px-4 py-2 text-quiet">
      {t("and {{more}} more: see the export of the plan", { more: count })}
    </p>
  ) : null;
}
