/** Critical path method against the house-building network of Hillier and Lieberman (from memory, recomputed). */
import { describe, expect, it } from "vitest";
import { criticalPath } from "@/lib/hours";

const SOURCE = "Hillier and Lieberman, Introduction to Operations Research, house-building network";

describe("house-building network", () => {
  const tasks = [
    { id: "A", days: 2, after: "", slack: 0 },
    { id: "B", days: 4, after: "A", slack: 0 },
    { id: "C", days: 10, after: "B", slack: 0 },
    { id: "D", days: 6, after: "C", slack: 4 },
    { id: "E", days: 4, after: "C", slack: 0 },
    { id: "F", days: 5, after: "E", slack: 0 },
    { id: "G", days: 7, after: "D", slack: 4 },
    { id: "H", days: 9, after: "EG", slack: 4 },
    { id: "I", days: 7, after: "C", slack: 2 },
    { id: "J", days: 8, after: "FI", slack: 0 },
    { id: "K", days: 4, after: "J", slack: 1 },
    { id: "L", days: 5, after: "J", slack: 0 },
    { id: "M", days: 2, after: "H", slack: 4 },
    { id: "N", days: 6, after: "KL", slack: 0 },
  ];
  const after = tasks.map((t) => [...t.after].map((id) => tasks.findIndex((u) => u.id === id)));
  const path = criticalPath(
    tasks.map((t) => t.days),
    after,
  );

  it("takes 44, critical A-B-C-E-F-J-L-N", () => {
    expect(path.length, `${SOURCE} (M)`).toBe(44);
    const critical = tasks.filter((_, i) => path.critical[i]).map((t) => t.id);
    expect(critical.join("-"), `${SOURCE} (M)`).toBe("A-B-C-E-F-J-L-N");
  });

  it.each(tasks)("activity $id: slack $slack", (t) => {
    expect(path.slack[tasks.indexOf(t)], `${SOURCE} (M)`).toBe(t.slack);
  });
});
