import { StateMark } from "@/app/_ui/StateMark";

/** Failed checks first, then warnings, of a site or a hop; null = not estimated yet. */
export function CheckMarks({ fails, warns }: { fails: number | null; warns: number | null }) {
  if (fails === null || warns === null) return <span className="text-quiet">not estimated yet</span>;
  if (fails > 0) {
    return (
      <StateMark state="fail">
        {fails} {fails === 1 ? "fails" : "fail"}
        {warns > 0 ? `, ${warns} to check` : ""}
      </StateMark>
    );
  }
  if (warns > 0) return <StateMark state="warn">{warns} to check</StateMark>;
  return <StateMark state="pass">no findings</StateMark>;
}

/** The same as one word to filter and sort by. */
export function checkWord(fails: number | null, warns: number | null): string {
  if (fails === null || warns === null) return "not estimated yet";
  if (fails > 0) return "fails";
  return warns > 0 ? "to check" : "no findings";
}
