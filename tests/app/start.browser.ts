/** The supervisor as an operator meets it: stopping, dying, and what it refuses. No page is needed for most of it. */
import { type ChildProcess, execFileSync, spawn } from "node:child_process";
import { cpSync, rmSync } from "node:fs";
import path from "node:path";
import {
  EMAILS,
  expect,
  freePort,
  signInByHand,
  startServer,
  TEST_NOW,
  temporaryFolder,
  test,
} from "./harness";

const isAlive = (pid: number) => {
  try {
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
};

const answers = (url: string) =>
  fetch(`${url}/api/health`).then(
    (response) => response.ok,
    () => false,
  );

const workerOf = (printed: string) => Number(/worker: ready \(process (\d+)\)/.exec(printed)?.[1]);

/** Runs a command with this environment to its end. */
function outcome(
  command: string[],
  env: Record<string, string>,
): Promise<{ code: number | null; printed: string }> {
  const child = spawn(command[0] ?? "", command.slice(1), { env: { ...process.env, ...env } });
  let printed = "";
  for (const stream of [child.stdout, child.stderr])
    stream.on("data", (text) => {
      printed += text;
    });
  return new Promise((resolve) => child.once("exit", (code) => resolve({ code, printed })));
}

const START = [process.execPath, "app/_server/start.mjs"];

test("a polite stop ends web server and worker, frees the port and says that all went well", async () => {
  const server = await startServer({ copyOf: process.env.BOTHENDS_TEST_TEMPLATE });
  expect(await answers(server.url)).toBe(true);
  const worker = workerOf(server.printed());
  expect(isAlive(worker)).toBe(true);
  expect(await server.stop()).toBe(0);
  expect(isAlive(worker)).toBe(false);
  expect(await answers(server.url)).toBe(false);
});

test("killed outright, it leaves no child behind", async () => {
  const server = await startServer({ copyOf: process.env.BOTHENDS_TEST_TEMPLATE });
  const worker = workerOf(server.printed());
  server.process.kill("SIGKILL");
  await expect.poll(() => isAlive(worker)).toBe(false);
  await expect.poll(() => answers(server.url)).toBe(false);
  rmSync(server.dataFolder, { recursive: true, force: true });
});

test("a data folder in use and a port in use are refused in words, and harm nobody", async () => {
  const server = await startServer({ copyOf: process.env.BOTHENDS_TEST_TEMPLATE });
  const free = temporaryFolder();
  try {
    const sameFolder = await outcome(START, {
      BOTHENDS_DATA: server.dataFolder,
      PORT: String(await freePort()),
    });
    expect(sameFolder).toMatchObject({ code: 1 });
    expect(sameFolder.printed).toContain(`is in use by process ${server.process.pid}`);
    const samePort = await outcome(START, { BOTHENDS_DATA: free, PORT: new URL(server.url).port });
    expect(samePort).toMatchObject({ code: 1 });
    expect(samePort.printed).toContain("Port ");
    expect(await answers(server.url)).toBe(true);
  } finally {
    await server.stop();
    rmSync(free, { recursive: true, force: true });
  }
});

test("a node that is too old is told so", async () => {
  const script =
    'import { nodeProblem } from "./app/_server/readiness.mjs";' +
    'for (const version of ["18.19.0", "20.8.1", "20.9.0", "24.1.0"]) console.log(String(Boolean(nodeProblem(version))));';
  const { printed } = await outcome([process.execPath, "--input-type=module", "-e", script], {});
  expect(printed.trim().split("\n")).toEqual(["true", "true", "false", "false"]);
});

test("stopping npm stops everything that npm started", async () => {
  const dataFolder = temporaryFolder();
  cpSync(process.env.BOTHENDS_TEST_TEMPLATE ?? "", dataFolder, { recursive: true });
  const port = await freePort();
  const npm: ChildProcess = spawn("npm", ["start"], {
    env: { ...process.env, PORT: String(port), BOTHENDS_DATA: dataFolder, BOTHENDS_NOW: TEST_NOW },
    stdio: ["ignore", "pipe", "ignore"],
    detached: true,
  });
  let printed = "";
  npm.stdout?.on("data", (text) => {
    printed += text;
  });
  await expect.poll(() => printed, { timeout: 30_000 }).toContain("Bothends is ready");
  const worker = workerOf(printed);
  process.kill(npm.pid ?? 0, "SIGTERM");
  await expect.poll(() => isAlive(worker)).toBe(false);
  await expect.poll(() => answers(`http://localhost:${port}`)).toBe(false);
  rmSync(dataFolder, { recursive: true, force: true });
});

test("a second host name of the same server signs in as well", async ({ page, server }) => {
  await page.goto(`${server.url.replace("localhost", "127.0.0.1")}/sign-in`);
  await page.getByLabel("Sign-in name").fill(EMAILS.administrator);
  await page.getByLabel("Password").fill("both-ends-demo");
  await page.getByRole("button", { name: "Sign in", exact: true }).click();
  await page.waitForURL("http://127.0.0.1:*/programme");
});

test("behind an https address the session's cookie is for https only", async ({ browser }) => {
  const server = await startServer({
    copyOf: process.env.BOTHENDS_TEST_TEMPLATE,
    env: { BOTHENDS_URL: "https://plan.masts.example" },
  });
  const context = await browser.newContext({ baseURL: server.url });
  try {
    expect(server.printed()).toContain("https://plan.masts.example");
    const page = await context.newPage();
    await signInByHand(page, EMAILS.administrator);
    await page.waitForURL("**/programme");
    const cookies = await context.cookies(server.url);
    expect(cookies.map(({ secure, httpOnly, sameSite }) => ({ secure, httpOnly, sameSite }))).toEqual([
      { secure: true, httpOnly: true, sameSite: "Lax" },
    ]);
  } finally {
    await context.close();
    await server.stop();
  }
});

test("with a certificate it serves https itself, and progress still arrives as it is made", async ({
  browser,
}) => {
  const folder = temporaryFolder();
  const [cert, key] = [path.join(folder, "cert.pem"), path.join(folder, "key.pem")];
  const subject = ["-subj", "/CN=localhost", "-days", "2"];
  execFileSync(
    "openssl",
    ["req", "-x509", "-newkey", "rsa:2048", "-nodes", "-keyout", key, "-out", cert, ...subject],
    { stdio: "ignore" },
  );
  const server = await startServer({
    copyOf: process.env.BOTHENDS_TEST_TEMPLATE,
    env: { BOTHENDS_TLS_CERT: cert, BOTHENDS_TLS_KEY: key },
  });
  const baseURL = server.url.replace("http:", "https:");
  const context = await browser.newContext({ baseURL, ignoreHTTPSErrors: true });
  try {
    const page = await context.newPage();
    await signInByHand(page, EMAILS.administrator);
    await page.waitForURL("**/programme");
    expect((await context.cookies()).every((cookie) => cookie.secure)).toBe(true);
    await page.goto("/jobs");
    await page.getByRole("button", { name: "Start the check" }).click();
    await expect(page.getByText(/step \d+ of 200/)).toBeVisible();
  } finally {
    await context.close();
    expect(await server.stop()).toBe(0);
    rmSync(folder, { recursive: true, force: true });
  }
});
