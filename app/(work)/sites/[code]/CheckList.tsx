import { Disclosure } from "@/app/_ui/Disclosure";
import { formatCount, formatQuantity } from "@/app/_ui/format";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { DesignCheck } from "@/lib/takeoff";

const ORDER = { fail: 0, warn: 1, pass: 2 } as const;
const WORDS = { fail: "Fails", warn: "Check", pass: "Within limits" } as const;

/** Checks with figure, limit and remedy; what fails first, what passes behind a disclosure. */
export function CheckList({ checks, label }: { checks: readonly DesignCheck[]; label: string }) {
  const sorted = [...checks].sort((a, b) => ORDER[a.state] - ORDER[b.state]);
  const findings = sorted.filter((c) => c.state !== "pass");
  const passed = sorted.filter((c) => c.state === "pass");
  return (
    <>
      {findings.length > 0 ? (
        <CheckTable checks={findings} label={`${label}: findings`} />
      ) : (
        <p>
          <StateMark state="pass">No findings</StateMark>
        </p>
      )}
      {passed.length > 0 ? (
        <Disclosure summary={`${formatCount(passed.length, "check")} within limits`}>
          <CheckTable checks={passed} label={`${label}: within limits`} />
        </Disclosure>
      ) : null}
    </>
  );
}

function CheckTable({ checks, label }: { checks: readonly DesignCheck[]; label: string }) {
  return (
    <ScrollRegion label={label}>
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            <th scope="col">State</th>
            <th scope="col">Where</th>
            <th scope="col">What</th>
            <th scope="col">Figure</th>
            <th scope="col">Limit</th>
            <th scope="col">What to do</th>
          </tr>
        </thead>
        <tbody>
          {checks.map((c) => (
            <tr key={`${c.rule} ${c.where} ${c.message}`}>
              <td data-label="State">
                <StateMark state={c.state}>{WORDS[c.state]}</StateMark>
              </td>
              <th data-label="Where" scope="row">
                {c.where}
              </th>
              <td data-label="What" className="min-w-64">
                {c.message}
              </td>
              <td data-label="Figure">{formatQuantity(c.figure, c.unit ?? "", 2)}</td>
              <td data-label="Limit">{formatQuantity(c.limit, c.unit ?? "", 2)}</td>
              <td data-label="What to do" className="min-w-56">
                {c.remedy}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
