/** The code behind each job kind. Only the worker process imports this file. */
import type { Db } from "@/db/open";
import { importApplyJob, importPreviewJob } from "./importJobs";
import type { JobInput, JobKindName } from "./jobKinds";
import { estimateJob, netJob, planJob } from "./planJobs";
import { reconcileJob } from "./reconcile";
import { riskJob } from "./riskJob";
import { ruleEffectJob } from "./ruleJobs";
import { checkWorker } from "./workerCheck";

export interface JobTools {
  db: Db;
  /** Tells the watchers how far it is; may be called as often as wanted, some ten reports a second go through. */
  report(progress: unknown): void;
  /** Whether to stop now. Cheap enough for an inner loop. A handler that stops returns what it has so far. */
  shouldStop(): boolean;
}

export type Handler<K extends JobKindName> = (input: JobInput<K>, tools: JobTools) => unknown;

/** Every kind has a handler: a kind without one does not compile. What it returns is the job's result (JSON). */
export const HANDLERS: { [K in JobKindName]: Handler<K> } = {
  plan: planJob,
  net: netJob,
  reconcile: reconcileJob,
  risk: riskJob,
  estimate: estimateJob,
  "rule-effect": ruleEffectJob,
  "import-preview": importPreviewJob,
  "import-apply": importApplyJob,
  "worker-check": checkWorker,
};
