import type { Metadata } from "next";
import { serverWords } from "@/app/_server/language";
import { LinkButton } from "@/app/_ui/Button";
import { EmptyState } from "@/app/_ui/EmptyState";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Not found") };
}

/** A thing that is gone, or never was; the frame stands around it. */
export default async function NothingHere() {
  const { t, locale } = await serverWords();
  return (
    <div lang={locale}>
      <h1 className="sr-only">{t("Not found")}</h1>
      <EmptyState
        level={2}
        title={t("There is nothing at this address")}
        actions={
          <>
            <LinkButton kind="primary" href="/">
              {t("Go to the start")}
            </LinkButton>
            <LinkButton href="/sites">{t("Search sites and hops")}</LinkButton>
          </>
        }
      >
        {t(
          "It may have been renamed or withdrawn. Search for its code in Sites and hops, or go back to the start.",
        )}
      </EmptyState>
    </div>
  );
}
