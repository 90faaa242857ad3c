import type { Metadata, Viewport } from "next";
import { headers } from "next/headers";
import type { ReactNode } from "react";
import { ICON_URL } from "./_ui/icon";
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
  const nonce = (await headers()).get("x-nonce") ?? undefined;
  return (
    // The head script may set data-theme before React looks.
    <html lang="en-GB" suppressHydrationWarning>
      <head>
        {/* biome-ignore lint/security/noDangerouslySetInnerHtml: our own constant, must run before the first paint */}
        <script nonce={nonce} suppressHydrationWarning dangerouslySetInnerHTML={{ __html: THEME_SCRIPT }} />
      </head>
      <body>{children}</body>
    </html>
  );
}
