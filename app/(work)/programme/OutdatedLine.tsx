import Link from "next/link";
import { T } from "@/app/_ui/language/T";
import { StateMark } from "@/app/_ui/StateMark";

/** That the figures of a run hold no more, why, and the way to new ones. */
export function OutdatedLine({ why, className }: { why: string; className: string }) {
  return (
    <p className={className}>
      <StateMark state="warn" isFreeText>
        {why}
      </StateMark>{" "}
      <Link href="/programme/finish">
        <T>Work it out again</T>
      </Link>
    </p>
  );
}
