import type { ReactNode } from "react";
import { requestLanguage, requestsFeet } from "@/app/_server/language";
import { type Area, catalogueOf } from "./catalogue";
import { LanguageProvider } from "./LanguageProvider";

/** Hands the texts of an area to what runs in the browser on its pages. */
export async function AreaWords({ area, children }: { area: Area; children: ReactNode }) {
  const language = await requestLanguage();
  return (
    <LanguageProvider
      language={language}
      entries={catalogueOf(language, area)}
      isFeetToo={await requestsFeet()}
    >
      {children}
    </LanguageProvider>
  );
}
