"use client";

import { useRouter } from "next/navigation";
import { Select } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";

/** For planners: whose week, or sheet, to look at. */
export function CrewChoice({
  crews,
  chosen,
  path = "/week",
}: {
  crews: readonly { code: string; name: string }[];
  chosen: string;
  path?: "/week" | "/week/sheet";
}) {
  const router = useRouter();
  const { t } = useWords();
  return (
    <Select
      label={t("Crew")}
      value={chosen}
      onChange={(event) => router.push(`${path}?crew=${encodeURIComponent(event.target.value)}`)}
      choices={crews.map((c) => ({ value: c.code, label: `${c.code} ${c.name}` }))}
    />
  );
}
