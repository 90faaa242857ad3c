import { serverWords } from "@/app/_server/language";
import { StateMark } from "@/app/_ui/StateMark";

/** Whether a change is for the better; `gain` > 0 = it is. */
export async function Means({ gain }: { gain: number }) {
  const { t } = await serverWords();
  if (gain === 0) return <span className="text-quiet">{t("the same")}</span>;
  return <StateMark state={gain > 0 ? "pass" : "warn"}>{gain > 0 ? t("better") : t("worse")}</StateMark>;
}
