import type { Hop } from "@/lib/site";
import { readingsAsked } from "./asked";
import type { Acceptance, AcceptanceLimits, AskedReading, JudgedReading, Reading } from "./types";

/**
 * Holds a hop's readings against their targets and limits. Of several readings of one thing the last in the list
 * counts: what was mended is read again.
 *
 * @param readings oldest first; one that the hop does not ask for (any more) plays no part
 *
 * Method: docs/methods/acceptance.md.
 */
export function judgeAcceptance(
  hop: Pick<Hop, "scheme" | "near" | "far">,
  readings: readonly Reading[],
  limits: AcceptanceLimits,
): Acceptance {
  const latest = new Map(readings.map((r) => [r.askedId, r]));
  const judged = readingsAsked(hop).map((asked) => judgeReading(asked, latest.get(asked.id), limits));
  if (judged.some((j) => j.state === "failed")) return { state: "failed", readings: judged };
  if (judged.some((j) => j.state === "open")) return { state: "open", readings: judged };
  const acceptedOn = judged.map((j) => j.reading!.takenOn).reduce((a, b) => (a > b ? a : b));
  return { state: "accepted", readings: judged, acceptedOn };
}

function judgeReading(
  asked: AskedReading,
  reading: Reading | undefined,
  limits: AcceptanceLimits,
): JudgedReading {
  if (!reading) return { asked, state: "open", words: limitWords(asked, limits) };
  const { state, words } =
    asked.form === "passed" ? judgeYesNo(asked, reading) : judgeFigure(asked, reading, limits);
  return { asked, state, reading, words };
}

type Verdict = Pick<JudgedReading, "state" | "words">;

/** Photos that are not there yet are still to be taken; a switch-over that did not happen has failed. */
function judgeYesNo({ kind }: AskedReading, { passed }: Reading): Verdict {
  if (passed)
    return {
      state: "passed",
      words: kind === "photos" ? "taken" : "traffic went over to the standby and back",
    };
  return kind === "photos"
    ? { state: "open", words: "not taken yet" }
    : { state: "failed", words: "did not pass" };
}

function judgeFigure(asked: AskedReading, reading: Reading, limits: AcceptanceLimits): Verdict {
  const { value } = reading;
  if (value === undefined) return { state: "open", words: limitWords(asked, limits) };
  const verdict = (isMet: boolean, words: string): Verdict => ({ state: isMet ? "passed" : "failed", words });
  switch (asked.kind) {
    case "receive level":
      return judgeLevel(value, asked.targetLevelDbm ?? reading.targetLevelDbm, limits);
    case "cross-polar":
      return verdict(
        value >= limits.crossPolarMinDb,
        `${figure(value)} dB (at least ${figure(limits.crossPolarMinDb)} dB)`,
      );
    case "earth resistance":
      return verdict(
        value <= limits.earthMaxOhm,
        `${figure(value)} ohm (at most ${figure(limits.earthMaxOhm)} ohm)`,
      );
    default:
      return verdict(
        value <= limits.errorRunMaxS,
        `${figure(value)} errored seconds in ${figure(limits.errorRunH)} h (at most ${figure(limits.errorRunMaxS)})`,
      );
  }
}

/** Too strong counts as much as too weak: the wrong power, or a wrong radio at the far end. */
function judgeLevel(levelDbm: number, targetDbm: number | undefined, limits: AcceptanceLimits): Verdict {
  if (targetDbm === undefined) {
    return { state: "open", words: `${figure(levelDbm)} dBm, no target from the link budget yet` };
  }
  // Tenths of a decibel are what is read: 3.0 dB off must not fail by the last bit.
  const offDb = Math.round((levelDbm - targetDbm) * 10) / 10;
  const isMet = Math.abs(offDb) <= limits.levelToleranceDb;
  const off = offDb === 0 ? "on" : `${figure(Math.abs(offDb))} dB ${offDb < 0 ? "below" : "above"}`;
  return {
    state: isMet ? "passed" : "failed",
    words: `${figure(levelDbm)} dBm, ${off} the target of ${figure(targetDbm)} dBm (${figure(limits.levelToleranceDb)} dB allowed)`,
  };
}

function limitWords(asked: AskedReading, limits: AcceptanceLimits): string {
  switch (asked.kind) {
    case "receive level":
      return asked.targetLevelDbm === undefined
        ? `within ${figure(limits.levelToleranceDb)} dB of the link budget's target`
        : `${figure(asked.targetLevelDbm)} dBm, within ${figure(limits.levelToleranceDb)} dB`;
    case "cross-polar":
      return `at least ${figure(limits.crossPolarMinDb)} dB`;
    case "earth resistance":
      return `at most ${figure(limits.earthMaxOhm)} ohm`;
    case "error run":
      return `${figure(limits.errorRunH)} h with at most ${figure(limits.errorRunMaxS)} errored seconds`;
    case "photos":
      return "of the end as it stands";
    default:
      return "traffic goes over to the standby and back";
  }
}

/** Up to one decimal, none where it is whole. */
const figure = (value: number): string => String(Math.round(value * 10) / 10);
