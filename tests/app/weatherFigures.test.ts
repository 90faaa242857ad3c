import { expect, test } from "vitest";
import { weatherGroups } from "@/app/_server/ruleFigures/weatherFigures";
import { DEFAULT_WEATHER_POLICY } from "@/lib/weather";

test("the least temperature of a class has a source of its own, not that of felt temperature", () => {
  for (const { id, figures } of weatherGroups()) {
    const figure = figures.find((f) => f.path.endsWith(".tempMinC"));
    if (id === "indoor" || id === "shared" || !figure) continue;
    const { tempMinC } = DEFAULT_WEATHER_POLICY.limits[id.replace("-", " ") as "climb"];
    expect(figure.source, id).toContain(`${tempMinC} degC`);
    expect(figure.source, id).not.toMatch(/wind chill|heat index/);
    expect(figures.find((f) => f.path.endsWith(".tempMaxC"))?.source, id).toBe("our choice");
  }
});
