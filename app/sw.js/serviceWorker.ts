/** What the service worker needs of its global scope; the DOM's own types do not know it. */
export interface WorkerScope {
  readonly location: { readonly origin: string };
  readonly caches: CacheStorage;
  skipWaiting(): Promise<void>;
  readonly clients: { claim(): Promise<void> };
  addEventListener(type: "install" | "activate", listener: (event: LastingEvent) => void): void;
  addEventListener(type: "message", listener: (event: LastingEvent & { data: unknown }) => void): void;
  addEventListener(type: "fetch", listener: (event: FetchingEvent) => void): void;
}

/** What is said where a page is wanted that the phone does not have. */
export interface NoPageWords {
  readonly lang: string;
  readonly title: string;
  readonly said: string;
  readonly link: string;
}

/** What a page of the week asks of the worker. */
export type WorkerMessage =
  | { kind: "keep"; user: string; paths: readonly string[]; words: NoPageWords }
  | { kind: "forget" };

interface LastingEvent {
  waitUntil(work: Promise<unknown>): void;
}

interface FetchingEvent extends LastingEvent {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}

/**
 * Keeps My week for the way without a signal: pages of /week come from the network where it answers in time, else as
 * they were last; what they load comes from the cache once it was there. So do the kits that the week names, while a
 * kit's page that was not kept with it is never held: those who pick must not see an old list. Other pages are never kept; without a
 * signal a sentence leads from them to My week. Everything else passes by.
 *
 * Sent to the browser as its own source text (route.ts), so it may use nothing but its two parameters and what every
 * service worker has.
 *
 * @param version of the build: pages of another build are let go, since their scripts are
 */
export function serviceWorker(scope: WorkerScope, version: string): void {
  const pagesName = `week pages ${version}`;
  const assetsName = "week assets";
  const userKey = "/week/kept-for";
  const wordsKey = "/week/no-page";
  /** A phone at the edge of the signal: later than this the kept page is of more use. */
  const patienceMillis = 6000;

  const isKit = (path: string) => path.startsWith("/kits/");
  const isPage = (path: string) => path === "/week" || path.startsWith("/week/") || isKit(path);
  const isAsset = (path: string) => path.startsWith("/_next/static/");

  const inEnglish: NoPageWords = {
    lang: "en",
    title: "No signal",
    said: "This page was not kept on this phone. My week and the visits and kits that it lists are, once it was opened with a signal. Reports that wait are not lost.",
    link: "My week",
  };

  /** In the language that the week was last read in. */
  async function noPage(): Promise<Response> {
    const kept = await (await scope.caches.open(pagesName)).match(wordsKey);
    const { lang, title, said, link } = kept ? ((await kept.json()) as NoPageWords) : inEnglish;
    return new Response(
      `<!doctype html><html lang=${lang}><meta charset=utf-8><meta name=viewport content='width=device-width'><meta name=color-scheme content='light dark'><title>${title}</title><body style='font:1rem system-ui;margin:2rem;max-width:40rem'><main><h1>${title}</h1><p>${said}</p><p><a href=/week>${link}</a></p></main></body></html>`,
      { status: 503, headers: { "content-type": "text/html; charset=utf-8" } },
    );
  }

  async function asset(request: Request): Promise<Response> {
    const cache = await scope.caches.open(assetsName);
    const kept = await cache.match(request);
    if (kept) return kept;
    const answer = await fetch(request);
    if (answer.ok) await cache.put(request, answer.clone());
    return answer;
  }

  async function page(request: Request): Promise<Response> {
    const cache = await scope.caches.open(pagesName);
    const { pathname, search } = new URL(request.url);
    const kept = async () =>
      (await cache.match(pathname + search)) ?? (await cache.match(pathname)) ?? undefined;
    const late = new Promise<undefined>((resolve) => setTimeout(() => resolve(undefined), patienceMillis));
    const fresh = fetch(request).then(async (answer) => {
      const isHeld = !isKit(pathname) || (await cache.match(pathname)) !== undefined;
      if (isHeld && answer.ok && answer.type === "basic") await cache.put(pathname + search, answer.clone());
      return answer;
    });
    try {
      return (await Promise.race([fresh, late])) ?? (await kept()) ?? (await fresh);
    } catch {
      return (await kept()) ?? noPage();
    }
  }

  /** Fetches the pages of a week and all that they load. Pages of another person go first. */
  async function keep(user: string, paths: readonly string[], words: NoPageWords): Promise<void> {
    const known = await (await scope.caches.open(pagesName)).match(userKey);
    if (known && (await known.text()) !== user) await scope.caches.delete(pagesName);
    const cache = await scope.caches.open(pagesName);
    await cache.put(userKey, new Response(user));
    await cache.put(wordsKey, new Response(JSON.stringify(words)));
    const assets = await scope.caches.open(assetsName);
    for (const path of paths) {
      const answer = await fetch(path, { credentials: "same-origin" });
      if (!answer.ok || answer.redirected) continue;
      const text = await answer.clone().text();
      await cache.put(path, answer);
      for (const url of new Set(text.match(/\/_next\/static\/[\w./~@%-]+\.(?:js|css|woff2)/g) ?? [])) {
        if (!(await assets.match(url))) await assets.add(url).catch(() => undefined);
      }
    }
  }

  scope.addEventListener("install", (event) => event.waitUntil(scope.skipWaiting()));

  scope.addEventListener("activate", (event) => {
    const clean = async () => {
      for (const name of await scope.caches.keys()) {
        if (name.startsWith("week pages ") && name !== pagesName) await scope.caches.delete(name);
      }
      await scope.clients.claim();
    };
    event.waitUntil(clean());
  });

  scope.addEventListener("message", (event) => {
    const said = event.data as WorkerMessage;
    if (said.kind === "keep") event.waitUntil(keep(said.user, said.paths.filter(isPage), said.words));
    if (said.kind === "forget") event.waitUntil(scope.caches.delete(pagesName));
  });

  scope.addEventListener("fetch", (event) => {
    const { request } = event;
    const url = new URL(request.url);
    if (request.method !== "GET" || url.origin !== scope.location.origin) return;
    if (isAsset(url.pathname)) event.respondWith(asset(request));
    else if (request.mode !== "navigate" || url.pathname.startsWith("/api/")) return;
    else event.respondWith(isPage(url.pathname) ? page(request) : fetch(request).catch(noPage));
  });
}
