"use client";

import { useWords } from "@/app/_ui/language/LanguageProvider";
import { signOut } from "@/app/sign-in/actions";

/** Signs out and takes the kept pages of My week off the phone. Reports that wait stay: they are nobody else's to see. */
export function SignOut() {
  const { t } = useWords();
  const forget = () => navigator.serviceWorker?.controller?.postMessage({ kind: "forget" });
  return (
    <form action={signOut} onSubmit={forget}>
      <button type="submit">{t("Sign out")}</button>
    </form>
  );
}
