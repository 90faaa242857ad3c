import type { Metadata } from "next";
import { redirect } from "next/navigation";
import { serverWords } from "@/app/_server/language";
import { homeOf } from "@/app/_server/roles";
import { currentVisitor, safeNext } from "@/app/_server/session";
import { Doorstep } from "../Doorstep";
import { CodeForm } from "./CodeForm";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Code") };
}

/** The second step of signing in, for those who have turned it on. */
export default async function CodePage({
  searchParams,
}: {
  searchParams: Promise<{ next?: string | string[] }>;
}) {
  const { next } = await searchParams;
  const wanted = safeNext(typeof next === "string" ? next : undefined);
  const visitor = await currentVisitor();
  if (visitor) redirect(wanted ?? homeOf(visitor));
  const { t } = await serverWords();
  return (
    <Doorstep
      title={t("Enter your code")}
      note={t("Your password was right. Now the code that your app shows.")}
    >
      <CodeForm next={wanted ?? ""} />
    </Doorstep>
  );
}
