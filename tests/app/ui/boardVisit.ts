import type { BoardVisit } from "@/app/_ui/board/types";

/** An install of a morning and afternoon on the board's third day. */
export const visit = (change: Partial<BoardVisit> = {}): BoardVisit => ({
  id: "v1",
  crewId: "c1",
  kind: "install",
  hopCode: "KRA-012",
  siteCode: "S-104",
  startDay: 2,
  startMin: 450,
  endDay: 2,
  endMin: 960,
  ...change,
});
