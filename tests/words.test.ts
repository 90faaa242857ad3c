/** Words that have no place in a file that others read: half-done work, filler, one machine's paths. */
import { execFileSync } from "node:child_process";
import { existsSync, readFileSync, statSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";

const ROOT = path.resolve(import.meta.dirname, "..");

/** Tracked, and new files that are not ignored: a finding should come before the commit, not after. */
const files = execFileSync("git", ["ls-files", "--cached", "--others", "--exclude-standard"], {
  cwd: ROOT,
  encoding: "utf8",
  maxBuffer: 64 * 2 ** 20,
})
  .split("\n")
  .filter((name) => name !== "" && name !== "tests/words.test.ts" && name !== "package-lock.json")
  .filter((name) => existsSync(path.join(ROOT, name)));

const BINARY = /\.(png|jpe?g|webp|gif|ico|woff2?|ttf|pdf|xlsx|sqlite|gz|zip)$/i;

const texts = files
  .filter((name) => !BINARY.test(name) && statSync(path.join(ROOT, name)).size < 4 * 2 ** 20)
  .map((name) => ({ name, lines: readFileSync(path.join(ROOT, name), "utf8").split("\n") }));

interface Rule {
  says: string;
  pattern: RegExp;
  /** Files in which it is right. */
  except?: RegExp;
}

const RULES: readonly Rule[] = [
  { says: "a path of one machine", pattern: /(^|[\s"'`(=:])\/(work|tmp|root|home\/\w+)\// },
  { says: "half-done work", pattern: /\b(TODO|FIXME|XXX|HACK)\b/ },
  { says: "filler text", pattern: /lorem ipsum|dolor sit amet/i },
  { says: "talk about how this was made", pattern: /\btran[s]cript\b/i },
  {
    says: "a test that is not run, or alone",
    pattern: /\b(test|it|describe)\.(skip|only|todo)\(/,
    except: /\.md$/,
  },
  { says: "an unfinished merge", pattern: /^(<{7}|>{7}) / },
];

test("the files are found", () => {
  expect(files).toContain("package.json");
  expect(texts.length).toBeGreaterThan(50);
});

test.each(RULES)("no file holds $says", ({ pattern, except }) => {
  const found = texts
    .filter(({ name }) => !except?.test(name))
    .flatMap(({ name, lines }) =>
      lines.flatMap((line, i) =>
        pattern.test(line) ? [`${name}:${i + 1}: ${line.trim().slice(0, 120)}`] : [],
      ),
    );
  expect(found).toEqual([]);
});
