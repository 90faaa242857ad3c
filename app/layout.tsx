import type { Metadata, Viewport } from "next";
import { headers } from "next/headers";
import type { ReactNode } from "react";
import { requestLanguage } from "./_server/language";
import { ICON_URL } from "./_ui/icon";
import { AreaWords } from "./_ui/language/AreaWords";
import { LANGUAGES } from "./_ui/language/languages";
import { THEME_SCRIPT } from "./_ui/themeScript";
import "./globals.css";

export const metadata: Metadata = {
  title: { default: "Bothends", template: "%s · Bothends" },
  description: "Rollout planning for point-to-point microwave hops.",
  applicationName: "Bothends",
  icons: { icon: ICON_URL },
  formatDetection: { telephone: false },
};

export const viewport: Viewport = {
  width: "device-width",
  initialScale: 1,
  viewportFit: "cover",
  themeColor: [
    { media: "(prefers-color-scheme: light)", color: "#0f3239" },
    { media: "(prefers-color-scheme: dark)", color: "#0a1f23" },
  ],
};

/** The document. What is shared by signed-in pages stands in `_ui/Shell`. */
export default async function RootLayout({ children }: { children: ReactNode }) {
  const language = await requestLanguage();
  const nonce = (await headers()).get("x-nonce") ?? undefined;
  return (
    // The head script may set data-theme before React looks.
    <html lang={LANGUAGES[language].locale} suppressHydrationWarning>
      <head>
        {/* biome-ignore lint/security/noDangerouslySetInnerHtml: our own constant, must run before the first paint */}
        <script nonce={nonce} suppressHydrationWarning dangerouslySetInnerHTML={{ __html: THEME_SCRIPT }} />
      </head>
      <body>
        <AreaWords area="common">{children}</AreaWords>
      </body>
    </html>
  );
}
