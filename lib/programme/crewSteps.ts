/** The work of a visit as a crew reads it: steps in order with the figures and cautions of this very end. */
import type { EndEstimate, EndTask } from "@/lib/hours";
import type { Hop, LinkEnd, Odu } from "@/lib/site";
import type { EndTakeoff } from "@/lib/takeoff";

export interface CrewStep {
  id: string;
  name: string;
  where: EndTask["where"];
  /** From the start of the work, minutes. */
  startMin: number;
  endMin: number;
  people: number;
  isCritical: boolean;
  /** Figures for exactly this end, e.g. "R1 main: cut 47.0 m". */
  figures: string[];
  /** What to watch for. Common practice; the site owner's rules and the maker's instructions come first. */
  cautions: string[];
}

type StepHop = Pick<Hop, "scheme" | "bandGhz" | "alignment">;

interface StepFacts {
  hop: StepHop;
  end: LinkEnd;
  takeoff: EndTakeoff;
  /** Repeat number of the task, 1-based; undefined when it is not repeated. */
  unit?: number;
}

const m = (lengthM: number) => `${lengthM.toFixed(1)} m`;

const oduWords = (o: Odu) => `${o.label} ${o.role}, ${o.polarisation}`;

/** Of a repeated task the figures of its own unit, of a single one those of all. */
function own<T>(list: readonly T[], unit: number | undefined): readonly T[] {
  return unit === undefined ? list : list.slice(unit - 1, unit);
}

/** Figures by task part. Preparation lengths: common practice, confirm with the connector's instructions. */
const FIGURES: Record<string, (f: StepFacts) => string[]> = {
  "prepare-odu-connector": connectorFigures,
  "prepare-idu-connector": connectorFigures,
  "hoist-antenna": antennaFigures,
  "winch-antenna": antennaFigures,
  "mount-antenna": antennaFigures,
  "assemble-antenna": antennaFigures,
  "change-polarisation": ({ end }) => [
    `turn to ${[...new Set(end.odus.map((o) => o.polarisation))].join(" and ")}; keep the removed part`,
  ],
  "mount-odu": oduFigures,
  "mount-odu-on-coupler": oduFigures,
  "mount-odu-remote": oduFigures,
  "mount-coupler": ({ end }) => [
    `main port: ${oduWords(end.odus[0]!)}`,
    ...(end.odus[1] ? [`standby or second port: ${oduWords(end.odus[1])}`] : []),
  ],
  "earth-odu": ({ end, unit }) =>
    own(end.odus, unit).map((o) => `${o.label}: bar ${m(o.earthBarDistanceM)} away, lead downward, no loop`),
  "hoist-cable": runFigures,
  "route-and-enter": runFigures,
  "test-run": () => ["short and open, before anything is powered"],
  "fix-cable": ({ takeoff }) => [
    `${takeoff.drivers.tieCount.toFixed(0)} ties in all: one a metre, two at each end of the drip loop and two to bind it`,
  ],
  "earth-run": ({ takeoff, unit }) =>
    own(takeoff.runs, unit).flatMap((r) =>
      r.earthingPoints.map(
        (p) =>
          `${r.oduLabel}: ${p.kind} at ${m(p.distanceM)} from the ODU, ${m(p.heightM)} above ground${p.movedM ? `, moved ${m(p.movedM)} clear of a bend` : ""}`,
      ),
    ),
  weatherproof: () => [
    "one base layer of PVC tape, unstretched",
    "three layers of self-amalgamating tape: up, down, up, half-lapped, stretched to 1/2 to 3/4 of its width",
    "three layers of PVC tape the same way, the last one upward; tie the ends",
  ],
  label: ({ end }) => end.odus.map((o) => `${o.label} ${o.role}: both ends of the run and the ODU`),
  align: ({ hop, end }) => [`${hop.bandGhz} GHz, ${hop.scheme}`, ...targetFigures(end)],
  acceptance: ({ end }) => [...targetFigures(end), "each reading with its limit stands in the report below"],
};

function targetFigures(end: LinkEnd): string[] {
  return end.odus.map((o) =>
    o.targetLevelDbm === undefined
      ? `${o.label}: target level from the link budget (not in the design data)`
      : `${o.label}: target ${o.targetLevelDbm.toFixed(1)} dBm`,
  );
}

function connectorFigures({ takeoff, unit }: StepFacts): string[] {
  return [
    ...own(takeoff.runs, unit).map((r) => `${r.oduLabel} ${r.role}: ${r.cableCode}`),
    "strip 20 mm of sheath, trim the shield to about 4 mm on the inner clamp, leave about 6 mm of centre conductor and taper its edge",
    "turn the nut, never the shell",
  ];
}

function antennaFigures({ end, unit }: StepFacts): string[] {
  return own(end.antennas, unit).map(
    (a) =>
      `${a.label}: ${a.diameterM} m dish at ${m(a.mountHeightM)}, ${a.polarisations.join(" and ")}, ${a.mount}`,
  );
}

function oduFigures({ end, unit }: StepFacts): string[] {
  return own(end.odus, unit).map(
    (o) =>
      `${oduWords(o)}: ${o.bandGhz} GHz, sub-band ${o.subBand}, ${o.duplexSpacingMhz} MHz, ${o.half} half`,
  );
}

function runFigures({ takeoff, unit }: StepFacts): string[] {
  return own(takeoff.runs, unit).map(
    (r) => `${r.oduLabel} ${r.role}: ${m(r.cutM)} of ${r.cableCode} in one piece, ${r.bends} bends`,
  );
}

const CAUTIONS: Record<string, string[]> = {
  induction: ["Sign in with the site owner; nobody works alone."],
  briefing: [
    "Confirm with the owner that transmitters on the structure are reduced or off before entering their zone.",
    "Wind, thunder and ice are judged on site: the crew decides.",
  ],
  "rescue-kit": ["A rescue-trained person stays on site while anyone is aloft."],
  "hoist-antenna": ["Nobody in the drop zone. Three people at least while hoisting."],
  "winch-antenna": ["Nobody in the drop zone. The winch is for a rigger."],
  "hoist-cable": ["Cap the connectors. Nobody in the drop zone."],
  connect: ["Isolate the supply and confirm that it is isolated before connecting."],
  weatherproof: ["In the same dry spell as connecting; mind the tape's lowest temperature."],
  idu: ["Electrical work is for licensed people."],
};

function cautionsOf(part: string, task: EndTask, { alignment }: StepHop): string[] {
  if (part === "align") {
    return alignment === "both ends at once"
      ? ["Both ends aloft at once: keep the call open, come down at thunder at either end."]
      : ["The other end stays as it was left: agree what it transmits before anybody enters the zone."];
  }
  return CAUTIONS[part] ?? (task.moves === "climb" ? ["100 % attached from the ground up."] : []);
}

/** Steps of an install (or of an alignment when its estimate is given), in order of their start. */
export function crewSteps(
  estimate: EndEstimate,
  hop: StepHop,
  end: LinkEnd,
  takeoff: EndTakeoff,
): CrewStep[] {
  const tasks = new Map(estimate.tasks.map((t) => [t.id, t]));
  return estimate.sequence.map((s): CrewStep => {
    const task = tasks.get(s.taskId)!;
    const { part, unit } = partOf(s.taskId);
    return {
      id: s.taskId,
      name: task.name,
      where: task.where,
      startMin: s.startMin,
      endMin: s.endMin,
      people: s.people.length,
      isCritical: s.critical,
      figures: FIGURES[part]?.({ hop, end, takeoff, unit }) ?? [],
      cautions: cautionsOf(part, task, hop),
    };
  });
}

/** `connect-2` is the second of the part `connect`. */
function partOf(taskId: string): { part: string; unit?: number } {
  const found = /^(.+)-(\d+)$/.exec(taskId);
  if (!found || FIGURES[taskId] || CAUTIONS[taskId]) return { part: taskId };
  return { part: found[1]!, unit: Number(found[2]) };
}
