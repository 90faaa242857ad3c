/**
 * What a page may load and run, as the header Content-Security-Policy says it to the browser. Everything but
 * pictures of a map comes from this server; a script runs only when the page that this server just made names it by the request's nonce.
 */

/** For answers that are no pages: nothing in them is ever to be drawn or run. */
export const POLICY_OF_DATA =
  "default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/**
 * @param nonce made for this request alone
 * @param pictureHost of a map's tiles when an administrator has named one: pictures, and nothing else, may come from it
 * @param isDevelopment React and the development server evaluate text and put styles into the page
 */
export function contentPolicy(nonce: string, isDevelopment: boolean, pictureHost?: string): string {
  const rules: readonly [name: string, ...allowed: string[]][] = [
    ["default-src", "'self'"],
    // 'strict-dynamic': what a named script loads may run, an address alone is no pass.
    [
      "script-src",
      "'self'",
      `'nonce-${nonce}'`,
      "'strict-dynamic'",
      ...(isDevelopment ? ["'unsafe-eval'"] : []),
    ],
    ["style-src", "'self'", isDevelopment ? "'unsafe-inline'" : `'nonce-${nonce}'`],
    // Bars, boards and charts carry their sizes as style attributes; those can move things, not run anything.
    ["style-src-attr", "'unsafe-inline'"],
    ["img-src", "'self'", "data:", "blob:", ...(pictureHost ? [pictureHost] : [])],
    ["font-src", "'self'"],
    ["connect-src", "'self'"],
    ["worker-src", "'self'"],
    ["manifest-src", "'self'"],
    ["object-src", "'none'"],
    ["frame-src", "'none'"],
    ["base-uri", "'none'"],
    ["form-action", "'self'"],
    ["frame-ancestors", "'none'"],
  ];
  return rules.map((rule) => rule.join(" ")).join("; ");
}
