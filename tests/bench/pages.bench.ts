/**
 * How long pages take, alone and with 20 clients while a plan is being searched. Needs a build (`npm run build`).
 * The clients ask only the server that this file starts on this machine, a fixed number of times.
 *
 *     npx tsx tests/bench/pages.bench.ts -- --sites 2000
 */
import { rmSync } from "node:fs";
import path from "node:path";
import { parseArgs } from "node:util";
import { openDatabase } from "@/db/open";
import { enqueueJob } from "@/db/queries/jobs";
import { ask, largeProgramme, serveLarge, signInByForm } from "./largeServer";

const { values } = parseArgs({
  args: process.argv.slice(2).filter((a) => a !== "--"),
  options: { sites: { type: "string", default: "2000" } },
});
const sites = Number(values.sites);
const CLIENTS = 20;
const ROUNDS = 6;
/** People read a page before they ask for the next. */
const READING_MILLIS = 5000;

const { folder: template, isKept } = largeProgramme({
  sites,
  hops: sites / 2,
  crews: sites / 50,
  weatherPlaces: sites / 10,
  weeks: 26,
  years: 2,
});
const db = openDatabase(path.join(template, "bothends.sqlite"));
const pick = (sql: string) => db.$client.prepare(sql).pluck().get() as string;
const site = pick("SELECT site_code FROM link_end LIMIT 1");
const hop = pick("SELECT code FROM hop LIMIT 1");
const item = pick("SELECT item_code FROM plan_netting LIMIT 1");
const kit = pick("SELECT visit_id FROM kit LIMIT 1");
db.$client.pragma("wal_checkpoint(TRUNCATE)");
db.$client.close();

const PAGES = [
  "/programme",
  "/sites",
  "/sites?tab=hops",
  `/sites/${site}`,
  `/hops/${hop}`,
  "/plan",
  "/weather",
  "/stock",
  `/stock/items/${item}`,
  "/kits",
  `/kits/${kit}`,
  "/week",
  "/import",
  "/rules",
  "/api/find?q=near+install",
];

const server = await serveLarge(template);
try {
  const cookie = await signInByForm(server);
  for (const page of PAGES) await ask(server, page, cookie); // the first visit compiles and warms
  console.log("page, median and slowest of 5, alone (ms)");
  for (const page of PAGES) {
    const times: number[] = [];
    for (let i = 0; i < 5; i++) times.push(await ask(server, page, cookie));
    times.sort((a, b) => a - b);
    console.log(`  ${page}: ${times[2]!.toFixed(0)}, ${times[4]!.toFixed(0)}`);
  }
  const job = startSolver();
  await new Promise((resolve) => setTimeout(resolve, 3000));
  await withClients(cookie, `solver running (${job})`);
  // What pages sum up is reckoned anew after a change of what they read: somebody picks a kit, line by line.
  const own = openDatabase(path.join(server.dataFolder, "bothends.sqlite"));
  const change = own.$client.prepare("UPDATE kit_line SET picked_c = picked_c WHERE visit_id = ?");
  const writer = setInterval(() => change.run(kit), READING_MILLIS);
  await withClients(cookie, "the same, and a kit's lines are ticked off every 5 s");
  clearInterval(writer);
  own.$client.close();
} finally {
  await server.stop();
  if (!isKept) rmSync(template, { recursive: true, force: true });
}

async function withClients(cookie: string, words: string): Promise<void> {
  const times: number[] = [];
  const byPage = new Map<string, number[]>();
  await Promise.all(
    Array.from({ length: CLIENTS }, async (_, c) => {
      await new Promise((resolve) => setTimeout(resolve, (c / CLIENTS) * READING_MILLIS));
      for (let r = 0; r < ROUNDS; r++) {
        const page = PAGES[(c + r * 5) % PAGES.length]!;
        const took = await ask(server, page, cookie);
        times.push(took);
        byPage.set(page, [...(byPage.get(page) ?? []), took]);
        await new Promise((resolve) => setTimeout(resolve, READING_MILLIS));
      }
    }),
  );
  times.sort((a, b) => a - b);
  const at = (share: number) =>
    times[Math.min(times.length - 1, Math.floor(share * times.length))]!.toFixed(0);
  console.log(
    `${CLIENTS} clients, 5 s of reading between pages, ${words}: ` +
      `p50 ${at(0.5)} ms, p95 ${at(0.95)} ms, slowest ${times.at(-1)!.toFixed(0)} ms of ${times.length}`,
  );
  for (const [page, list] of [...byPage].sort()) {
    console.log(
      `  ${page}: ${(list.reduce((a, b) => a + b, 0) / list.length).toFixed(0)} ms mean of ${list.length}`,
    );
  }
}

/** Queues a long plan for the server's worker. */
function startSolver(): string {
  const own = openDatabase(path.join(server.dataFolder, "bothends.sqlite"));
  const input = { weeks: 26, seconds: 120, seed: "load", frozenDays: 0, createdBy: "bench" };
  enqueueJob(own, { kind: "plan", input, createdBy: null, now: Date.now() as never });
  own.$client.close();
  return "26 weeks, 120 s";
}
