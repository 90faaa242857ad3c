import type { MetadataRoute } from "next";
import { ICON_URL } from "./_ui/icon";

/** Lets a phone put My week on its start screen. */
export default function manifest(): MetadataRoute.Manifest {
  return {
    name: "Bothends, My week",
    short_name: "My week",
    description: "The crew's visits with kit, steps and report, with or without a signal.",
    start_url: "/week",
    scope: "/",
    display: "standalone",
    background_color: "#f5f0e5",
    theme_color: "#0f3239",
    icons: [{ src: ICON_URL, sizes: "any", type: "image/svg+xml", purpose: "any" }],
  };
}
