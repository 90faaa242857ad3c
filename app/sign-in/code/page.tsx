import type { Metadata } from "next";
import { redirect } from "next/navigation";
import { homeOf } from "@/app/_server/roles";
import { currentVisitor, safeNext } from "@/app/_server/session";
import { Doorstep } from "../Doorstep";
import { CodeForm } from "./CodeForm";

export const metadata: Metadata = { title: "Code" };

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
  return (
    <Doorstep title="Enter your code" note="Your password was right. Now the code that your app shows.">
      <CodeForm next={wanted ?? ""} />
    </Doorstep>
  );
}
