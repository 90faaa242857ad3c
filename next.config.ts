import type { NextConfig } from "next";
import { POLICY_OF_DATA } from "./app/_server/contentPolicy";

/** On every answer: no sniffing, nothing for pages of others. */
const ofAll = [
  { key: "X-Content-Type-Options", value: "nosniff" },
  { key: "Cross-Origin-Resource-Policy", value: "same-origin" },
];

/**
 * On all but scripts and styles, of which they say nothing and on a phone's way cost more than some of them: no framing,
 * no referrer with filters in it. What pages may run: proxy.ts.
 */
const ofPages = [
  { key: "X-Frame-Options", value: "DENY" },
  { key: "Referrer-Policy", value: "same-origin" },
  { key: "Cross-Origin-Opener-Policy", value: "same-origin" },
  // Camera: a crew may read a drum's label on site. Position: never asked for.
  { key: "Permissions-Policy", value: "camera=(self), geolocation=(), microphone=(), payment=(), usb=()" },
];

/** Forms and reports are small; files come by app/api/imports, which has a limit of its own. */
const BODY_MOST = "2mb";

const config: NextConfig = {
  reactStrictMode: true,
  poweredByHeader: false,
  experimental: {
    serverActions: { bodySizeLimit: BODY_MOST },
    proxyClientMaxBodySize: BODY_MOST,
    // `forbidden()` of requireRole answers 403 with app/forbidden.tsx.
    authInterrupts: true,
  },
  // Reads its own files beside its code, which a bundle does not have.
  serverExternalPackages: ["pdfkit"],
  headers: async () => [
    { source: "/:path*", headers: ofAll },
    { source: "/((?!_next/static/).*)", headers: ofPages },
    { source: "/api/:path*", headers: [{ key: "Content-Security-Policy", value: POLICY_OF_DATA }] },
  ],
};

export default config;
