import Link from "next/link";
import type { ShownEffect } from "@/app/_server/ruleJobs";
import { formatAmount, formatCount, formatMoney } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";

const MOST = 60;

/** Money by currency and owner: what the contractor pays and what the customer brings are two sums. */
function sums(effect: ShownEffect): string[] {
  const by = new Map<string, number>();
  for (const l of effect.lines) {
    if (l.differenceMinor === undefined || !l.currency) continue;
    const key = `${l.owner}|${l.currency}`;
    by.set(key, (by.get(key) ?? 0) + l.differenceMinor);
  }
  return [...by].map(([key, minor]) => {
    const [owner, currency] = key.split("|") as [string, string];
    return `${signed(minor, formatMoney(Math.abs(minor), currency))} ${owner === "contractor" ? "of our own" : "of the customer's"}`;
  });
}

const signed = (n: number, words: string) => (n > 0 ? `+${words}` : n < 0 ? `\u2212${words}` : words);

/** What a change of take-off rules does to the whole programme. */
export function EffectView({ effect }: { effect: ShownEffect }) {
  const { lines, newFails, solvedFails, hopCount, ends } = effect;
  const words = sums(effect);
  const quiet = lines.length === 0 && newFails.length === 0 && solvedFails.length === 0;
  return (
    <section aria-label="Effect on the whole programme" className="grid gap-3">
      <Notice
        kind={newFails.length > 0 ? "warn" : "info"}
        announce
        title={
          quiet
            ? `No quantity changes over ${formatCount(hopCount, "hop")}`
            : `${formatCount(lines.length, "item changes", "items change")} over ${formatCount(hopCount, "hop")}`
        }
      >
        {words.length > 0 ? `Money: ${words.join("; ")}. ` : null}
        {newFails.length > 0
          ? `${formatCount(newFails.length, "check fails", "checks fail")} that did not before. `
          : "No check fails that did not before. "}
        {solvedFails.length > 0
          ? `${formatCount(solvedFails.length, "failing check is", "failing checks are")} solved.`
          : null}
      </Notice>
      {lines.length > 0 ? (
        <ScrollRegion label="Items that change">
          <table className="ui-facts">
            <thead>
              <tr>
                <th scope="col">Item</th>
                <th scope="col" data-align="end">
                  Now
                </th>
                <th scope="col" data-align="end">
                  Then
                </th>
                <th scope="col" data-align="end">
                  Difference
                </th>
                <th scope="col" data-align="end">
                  Money
                </th>
              </tr>
            </thead>
            <tbody>
              {lines.slice(0, MOST).map((l) => (
                <tr key={`${l.itemCode} ${l.owner}`}>
                  <th scope="row">
                    {l.itemCode}
                    <span className="text-quiet block font-normal">
                      {l.name}
                      {l.owner === "customer" ? ", the customer's" : ""}
                    </span>
                  </th>
                  <td data-align="end">{formatAmount(l.before, l.unit)}</td>
                  <td data-align="end">{formatAmount(l.after, l.unit)}</td>
                  <td data-align="end">
                    {signed(l.difference, formatAmount(Math.abs(l.difference), l.unit))}
                  </td>
                  <td data-align="end">
                    {l.differenceMinor === undefined || !l.currency
                      ? "not in the catalogue"
                      : signed(l.differenceMinor, formatMoney(Math.abs(l.differenceMinor), l.currency))}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </ScrollRegion>
      ) : null}
      {lines.length > MOST ? (
        <p className="text-quiet">and {formatCount(lines.length - MOST, "item")} more</p>
      ) : null}
      <Fails title="Checks that would fail" fails={newFails} ends={ends} />
      <Fails title="Failing checks that would be solved" fails={solvedFails} ends={ends} />
    </section>
  );
}

function Fails({
  title,
  fails,
  ends,
}: {
  title: string;
  fails: ShownEffect["newFails"];
  ends: ShownEffect["ends"];
}) {
  if (fails.length === 0) return null;
  return (
    <div>
      <h3>{title}</h3>
      <ul className="list-disc pl-5">
        {fails.slice(0, 12).map((f, i) => {
          const end = ends[f.endId];
          return (
            // biome-ignore lint/suspicious/noArrayIndexKey: two checks of an end may read alike
            <li key={i}>
              {end ? (
                <Link href={`/hops/${encodeURIComponent(end.hopCode)}`} target="_blank">
                  {end.hopCode}
                  <span className="sr-only"> (opens in a new tab)</span>
                </Link>
              ) : null}{" "}
              {f.message}
            </li>
          );
        })}
      </ul>
      {fails.length > 12 ? (
        <p className="text-quiet">and {formatCount(fails.length - 12, "more", "more")}</p>
      ) : null}
    </div>
  );
}
