"use server";

import { z } from "zod";
import { defineAction } from "@/app/_server/action";
import { startJob } from "@/app/_server/jobs";
import { ok } from "@/lib/result";

const STEPS = 200;
const STEP_MILLIS = 50;

/** Starts the worker check and gives its job id. */
export const checkWorker = defineAction({
  name: "check-worker",
  roles: ["administrator"],
  changesData: false,
  input: z.object({}),
  run: (_input, { db, visitor }) =>
    ok(startJob(db, "worker-check", { steps: STEPS, stepMillis: STEP_MILLIS }, visitor.userId)),
  revalidate: ["/jobs"],
});
