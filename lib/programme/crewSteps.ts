/** The work of a visit as a crew reads it: steps in order with the figures and cautions of this very end. */
import type { EndEstimate, EndTask } from "@/lib/hours";
import { figure, type Phrase, phrase } from "@/lib/phrase";
import type { Hop, LinkEnd, Odu } from "@/lib/site";
import type { EndTakeoff } from "@/lib/takeoff";

export interface CrewStep {
  id: string;
  /** As the norms call it. */
  name: string;
  where: EndTask["where"];
  /** From the start of the work, minutes. */
  startMin: number;
  endMin: number;
  people: number;
  isCritical: boolean;
  /** Figures for exactly this end, e.g. "R1 main: 47.0 m of IF-240 in one piece". */
  figures: Phrase[];
  /** What to watch for. Common practice; the site owner's rules and the maker's instructions come first. */
  cautions: Phrase[];
}

type StepHop = Pick<Hop, "scheme" | "bandGhz" | "alignment">;

interface StepFacts {
  hop: StepHop;
  end: LinkEnd;
  takeoff: EndTakeoff;
  /** Repeat number of the task, 1-based; undefined when it is not repeated. */
  unit?: number;
}

const metres = (lengthM: number) => figure(lengthM, 1);
/** A height, which a climber may want in feet too. */
const heightM = (lengthM: number) => figure(lengthM, 1, "m");

/** Names of things that the design calls by a word of the trade, one after the other. */
function list(words: readonly string[]): Phrase {
  const [first, ...others] = [...new Set(words)].map((w) => phrase(w));
  return others.reduce((a, b) => phrase("{{a}} and {{b}}", { a, b }), first ?? phrase(""));
}

const oduValues = (o: Odu) => ({
  odu: o.label,
  role: phrase(o.role),
  polarisation: phrase(o.polarisation),
});

/** Of a repeated task the figures of its own unit, of a single one those of all. */
function own<T>(all: readonly T[], unit: number | undefined): readonly T[] {
  return unit === undefined ? all : all.slice(unit - 1, unit);
}

/** Figures by task part. Preparation lengths: common practice, confirm with the connector's instructions. */
const FIGURES: Record<string, (f: StepFacts) => Phrase[]> = {
  "prepare-odu-connector": connectorFigures,
  "prepare-idu-connector": connectorFigures,
  "hoist-antenna": antennaFigures,
  "winch-antenna": antennaFigures,
  "mount-antenna": antennaFigures,
  "assemble-antenna": antennaFigures,
  "change-polarisation": ({ end }) => [
    phrase("turn to {{polarisations}}; keep the removed part", {
      polarisations: list(end.odus.map((o) => o.polarisation)),
    }),
  ],
  "mount-odu": oduFigures,
  "mount-odu-on-coupler": oduFigures,
  "mount-odu-remote": oduFigures,
  "mount-coupler": ({ end }) => [
    phrase("main port: {{odu}} {{role}}, {{polarisation}}", oduValues(end.odus[0]!)),
    ...(end.odus[1]
      ? [phrase("standby or second port: {{odu}} {{role}}, {{polarisation}}", oduValues(end.odus[1]))]
      : []),
  ],
  "earth-odu": ({ end, unit }) =>
    own(end.odus, unit).map((o) =>
      phrase("{{odu}}: bar {{distance}} m away, lead downward, no loop", {
        odu: o.label,
        distance: metres(o.earthBarDistanceM),
      }),
    ),
  "hoist-cable": runFigures,
  "route-and-enter": runFigures,
  "test-run": () => [phrase("short and open, before anything is powered")],
  "fix-cable": tieFigures,
  "earth-run": ({ takeoff, unit }) =>
    own(takeoff.runs, unit).flatMap((r) =>
      r.earthingPoints.map((p) => {
        const values = {
          odu: r.oduLabel,
          kind: phrase(p.kind),
          distance: metres(p.distanceM),
          height: heightM(p.heightM),
        };
        return p.movedM
          ? phrase(
              "{{odu}}: {{kind}} at {{distance}} m from the ODU, {{height}} above ground, moved {{moved}} m clear of a bend",
              { ...values, moved: metres(p.movedM) },
            )
          : phrase("{{odu}}: {{kind}} at {{distance}} m from the ODU, {{height}} above ground", values);
      }),
    ),
  weatherproof: () => [
    phrase("one base layer of PVC tape, unstretched"),
    phrase(
      "three layers of self-amalgamating tape: up, down, up, half-lapped, stretched to 1/2 to 3/4 of its width",
    ),
    phrase("three layers of PVC tape the same way, the last one upward; tie the ends"),
  ],
  label: ({ end, unit }) =>
    own(end.odus, unit).map((o) =>
      phrase("{{odu}} {{role}}: both ends of the run and the ODU", { odu: o.label, role: phrase(o.role) }),
    ),
  align: ({ hop, end }) => [
    phrase("{{band}} GHz, {{scheme}}", { band: String(hop.bandGhz), scheme: phrase(hop.scheme) }),
    ...targetFigures(end),
  ],
  acceptance: ({ end }) => [
    ...targetFigures(end),
    phrase("each reading with its limit stands in the report below"),
  ],
};

function targetFigures(end: LinkEnd): Phrase[] {
  return end.odus.map((o) =>
    o.targetLevelDbm === undefined
      ? phrase("{{odu}}: target level from the link budget (not in the design data)", { odu: o.label })
      : phrase("{{odu}}: target {{level}} dBm", { odu: o.label, level: figure(o.targetLevelDbm, 1) }),
  );
}

function connectorFigures({ takeoff, unit }: StepFacts): Phrase[] {
  return [
    ...own(takeoff.runs, unit).map((r) =>
      phrase("{{odu}} {{role}}: {{cable}}", { odu: r.oduLabel, role: phrase(r.role), cable: r.cableCode }),
    ),
    phrase(
      "strip 20 mm of sheath, trim the shield to about 4 mm on the inner clamp, leave about 6 mm of centre conductor and taper its edge",
    ),
    phrase("turn the nut, never the shell"),
  ];
}

function antennaFigures({ end, unit }: StepFacts): Phrase[] {
  return own(end.antennas, unit).map((a) =>
    phrase("{{antenna}}: {{diameter}} m dish at {{height}}, {{polarisations}}, {{mount}}", {
      antenna: a.label,
      diameter: figure(a.diameterM, 1),
      height: heightM(a.mountHeightM),
      polarisations: list(a.polarisations),
      mount: phrase(a.mount),
    }),
  );
}

function oduFigures({ end, unit }: StepFacts): Phrase[] {
  return own(end.odus, unit).map((o) =>
    phrase(
      "{{odu}} {{role}}, {{polarisation}}: {{band}} GHz, sub-band {{subBand}}, {{spacing}} MHz, {{half}}",
      {
        ...oduValues(o),
        band: String(o.bandGhz),
        subBand: o.subBand,
        spacing: String(o.duplexSpacingMhz),
        half: phrase(`${o.half} half`),
      },
    ),
  );
}

function runFigures({ takeoff, unit }: StepFacts): Phrase[] {
  return own(takeoff.runs, unit).map((r) =>
    phrase("{{odu}} {{role}}: {{cut}} m of {{cable}} in one piece, {{bends}} bends", {
      odu: r.oduLabel,
      role: phrase(r.role),
      cut: metres(r.cutM),
      cable: r.cableCode,
      bends: figure(r.bends),
    }),
  );
}

/** The ties that the take-off counts for the run, by what drives them. */
function tieFigures({ takeoff, unit }: StepFacts): Phrase[] {
  return own(takeoff.runs, unit).flatMap(({ oduLabel, ties }) => {
    const { onRoute, atDripLoop, atEarthingPoints, atWraps, indoors } = ties;
    const values = {
      odu: oduLabel,
      ties: figure(onRoute + atDripLoop + atEarthingPoints + atWraps),
      loop: figure(atDripLoop),
      points: figure(atEarthingPoints),
      wraps: figure(atWraps),
    };
    return [
      onRoute > 0
        ? phrase(
            "{{odu}}: {{ties}} ties outdoors: {{route}} along the route, {{loop}} at the ends of the drip loop and to bind it, {{points}} at earthing points, {{wraps}} at wraps",
            { ...values, route: figure(onRoute) },
          )
        : phrase(
            "{{odu}}: hangers hold the route; {{ties}} ties outdoors: {{loop}} at the ends of the drip loop and to bind it, {{points}} at earthing points, {{wraps}} at wraps",
            values,
          ),
      ...(indoors > 0
        ? [phrase("{{odu}}: {{ties}} ties indoors", { odu: oduLabel, ties: figure(indoors) })]
        : []),
    ];
  });
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

function cautionsOf(part: string, task: EndTask, { alignment }: StepHop): readonly string[] {
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
      cautions: cautionsOf(part, task, hop).map((text) => phrase(text)),
    };
  });
}

/** `connect-2` is the second of the part `connect`; `~1` marks a piece of a task that is shared by two ascents. */
function partOf(id: string): { part: string; unit?: number } {
  const taskId = id.replace(/~\d+$/, "");
  const found = /^(.+)-(\d+)$/.exec(taskId);
  if (!found || FIGURES[taskId] || CAUTIONS[taskId]) return { part: taskId };
  return { part: found[1]!, unit: Number(found[2]) };
}
