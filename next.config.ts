import type { NextConfig } from "next";

/** Headers that cost nothing and close the usual doors: no framing, no sniffing, no referrer with filters in it. */
const headers = [
  { key: "X-Content-Type-Options", value: "nosniff" },
  { key: "X-Frame-Options", value: "DENY" },
  { key: "Referrer-Policy", value: "same-origin" },
  // Camera: a crew may read a drum's label on site. Position: never asked for.
  { key: "Permissions-Policy", value: "camera=(self), geolocation=(), microphone=()" },
];

const config: NextConfig = {
  reactStrictMode: true,
  poweredByHeader: false,
  experimental: {
    // Design data and stock lists arrive as spreadsheets of a few megabytes.
    serverActions: { bodySizeLimit: "25mb" },
    // `forbidden()` of requireRole answers 403 with app/forbidden.tsx.
    authInterrupts: true,
  },
  headers: async () => [{ source: "/:path*", headers }],
};

export default config;
