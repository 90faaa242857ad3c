/** The server-sent events of one job. */
import type { Db } from "@/db/open";
import { ENDED } from "@/db/queries/jobs";
import type { Visitor } from "./carryOut";
import { jobFor, viewOf } from "./jobView";

const LOOK_EVERY_MILLIS = 120;
/** A line now and then, so that proxies do not close a quiet connection. */
const KEEP_ALIVE_MILLIS = 15_000;

/** Sends the job's view whenever it has changed; closes after its end, or when the watcher has gone. */
export function jobEvents(
  db: Db,
  id: string,
  visitor: Visitor,
  gone: AbortSignal,
): ReadableStream<Uint8Array> {
  const encoder = new TextEncoder();
  let timer: ReturnType<typeof setTimeout> | undefined;
  let revision = -1;
  let spokenAt = performance.now();

  return new ReadableStream({
    start(controller) {
      const say = (text: string) => {
        controller.enqueue(encoder.encode(text));
        spokenAt = performance.now();
      };
      const close = () => {
        clearTimeout(timer);
        try {
          controller.close();
        } catch {
          // closed by the watcher's going, which is what was wanted
        }
      };
      const look = () => {
        if (gone.aborted) return close();
        const job = jobFor(db, id, visitor);
        if (!job.ok) return close();
        if (job.value.revision !== revision) {
          revision = job.value.revision;
          say(`data: ${JSON.stringify(viewOf(job.value))}\n\n`);
        } else if (performance.now() - spokenAt > KEEP_ALIVE_MILLIS) say(": still here\n\n");
        if (ENDED.includes(job.value.state)) return close();
        timer = setTimeout(look, LOOK_EVERY_MILLIS);
      };
      gone.addEventListener("abort", close);
      look();
    },
    cancel() {
      clearTimeout(timer);
    },
  });
}
