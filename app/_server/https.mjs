/**
 * https with a given certificate, in front of the web server: a phone works without signal, and uses its camera,
 * only on pages that came by https. Enough for an office; a public address better has a proxy of its own.
 */
import { readFileSync } from "node:fs";
import http from "node:http";
import https from "node:https";

/**
 * Listens on `port` and hands every request on to the web server on this machine's `innerPort`, unchanged but for
 * the headers that say how it came. Bodies and answers are streamed, so events arrive as they are sent.
 *
 * @param files paths of certificate chain and private key, PEM. Throws when they cannot be read or do not match.
 */
export function serveHttps(files, { port, host, innerPort }) {
  const agent = new http.Agent({ keepAlive: true });
  const options = { cert: readFileSync(files.cert), key: readFileSync(files.key) };
  const server = https.createServer(options, (request, response) => {
    const headers = {
      ...request.headers,
      "x-forwarded-proto": "https",
      "x-forwarded-host": request.headers.host,
      "x-forwarded-for": request.socket.remoteAddress,
    };
    const { method, url: path } = request;
    const inner = http.request(
      { agent, host: "127.0.0.1", port: innerPort, method, path, headers },
      (answer) => {
        response.writeHead(answer.statusCode ?? 502, answer.headers);
        response.flushHeaders();
        answer.pipe(response);
      },
    );
    inner.on("error", () => {
      if (!response.headersSent) response.writeHead(502, { "content-type": "text/plain" });
      response.end("The web server does not answer.");
    });
    response.on("close", () => inner.destroy()); // a watcher that goes must not keep its stream running
    request.pipe(inner);
  });
  return new Promise((resolve, reject) => {
    server.once("error", reject);
    server.listen(port, host, () => resolve(server));
  });
}
