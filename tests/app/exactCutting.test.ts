import { expect, test } from "vitest";
import { exactCutting } from "@/app/_server/exactCutting";
import { packBins } from "@/lib/drums";

test("the worker's solver proves a packing, and its clock minds both the time and the job", async () => {
  let isAsked = false;
  const { solver, startTime } = await exactCutting(60, () => isAsked);
  const isTimeUp = startTime();
  // 7 + 3, 6 + 4, 5 + 5: full bins, so that the bound is met.
  expect(packBins([7, 6, 5, 5, 4, 3], 10, { solver, shouldStop: isTimeUp })).toMatchObject({ lowerBound: 3 });
  expect(isTimeUp()).toBe(false);
  isAsked = true;
  expect(isTimeUp()).toBe(true);

  const { startTime: noTime } = await exactCutting(-1, () => false);
  expect(noTime()()).toBe(true);
});
