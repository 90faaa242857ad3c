/**
 * Norm data: the parts of an end's work. One row is one part; compose.ts makes an end's list from the rows that apply.
 * Every figure is from memory, common practice: calibrate with your own actuals before promising by it.
 */
import type { PerDriver, TaskTemplate, ThreePoint } from "./types";

const SOURCE = "from memory, common practice: calibrate";

const min = (aMin: number, mMin: number, bMin: number): ThreePoint => ({ aMin, mMin, bMin });
const per = (driver: PerDriver["driver"], aMin: number, mMin: number, bMin: number): PerDriver => ({
  driver,
  aMin,
  mMin,
  bMin,
});

type Row = Omit<TaskTemplate, "per" | "when" | "people" | "splittable" | "usesDropZone" | "source"> &
  Partial<Pick<TaskTemplate, "per" | "when" | "people" | "splittable" | "usesDropZone">>;

const row = (r: Row): TaskTemplate => ({
  per: [],
  when: {},
  people: {},
  splittable: false,
  usesDropZone: false,
  source: SOURCE,
  ...r,
});

/** Work on the structure: two aloft or more, over the drop zone. */
const aloft = (r: Omit<Row, "where" | "workClass"> & Partial<Pick<Row, "workClass">>): TaskTemplate =>
  row({ where: "aloft", workClass: "aloft", usesDropZone: true, ...r });

const SETUP: readonly TaskTemplate[] = [
  row({
    part: "induction",
    name: "Travel in from the gate, sign in and induction",
    where: "ground",
    workClass: "indoor",
    everybody: true,
    isSetup: true,
    fixed: min(15, 25, 60),
    after: [],
  }),
  row({
    part: "briefing",
    name: "Safety briefing; transmitters on the structure confirmed reduced or off",
    where: "ground",
    workClass: "indoor",
    everybody: true,
    isSetup: true,
    fixed: min(10, 15, 30),
    after: ["induction"],
  }),
  row({
    part: "rescue-kit",
    name: "Rigging and rescue kit set out and checked",
    where: "ground",
    workClass: "ground",
    people: { climber: 2 },
    atFoot: true,
    isSetup: true,
    splittable: true,
    fixed: min(10, 15, 30),
    after: ["briefing"],
  }),
  row({
    part: "winch",
    name: "Set and anchor the winch",
    where: "ground",
    workClass: "ground",
    people: { rigger: 1, ground: 1 },
    atFoot: true,
    isSetup: true,
    when: { lift: "winch" },
    fixed: min(25, 40, 75),
    after: ["briefing"],
  }),
];

const GROUND_PREPARATION: readonly TaskTemplate[] = [
  row({
    part: "prepare-odu-connector",
    name: "Prepare the ODU-end connector and test for short and open",
    where: "ground",
    workClass: "ground",
    people: { ground: 1 },
    repeat: "run",
    fixed: min(10, 15, 30),
    after: ["briefing"],
  }),
  row({
    part: "change-polarisation",
    name: "Change polarisation part",
    where: "ground",
    workClass: "ground",
    people: { ground: 1 },
    splittable: true,
    when: { above: "polarisationChanges" },
    per: [per("polarisationChanges", 8, 12, 25)],
    fixed: min(0, 0, 0),
    after: ["briefing"],
  }),
  row({
    part: "assemble-antenna",
    name: "Assemble antenna and its mount on the ground",
    where: "ground",
    workClass: "ground",
    people: { ground: 1 },
    repeat: "antenna",
    splittable: true,
    fixed: min(15, 20, 40),
    per: [per("antennaAreaM2", 5, 10, 20)],
    after: ["briefing", "change-polarisation"],
  }),
  row({
    part: "assemble-radio",
    name: "Assemble ODU, and coupler or orthomode coupling, on the antenna on the ground",
    where: "ground",
    workClass: "ground",
    people: { ground: 1 },
    repeat: "antenna",
    splittable: true,
    when: { groundAssembly: true },
    fixed: min(0, 0, 0),
    per: [per("oduCount", 6, 10, 20), per("couplerCount", 8, 12, 20), per("orthomodeCount", 8, 12, 20)],
    after: ["assemble-antenna"],
  }),
];

const LIFTS: readonly TaskTemplate[] = [
  aloft({
    part: "rig-hoist",
    name: "Rig the hoist point and tag line",
    people: { climber: 2 },
    fixed: min(8, 12, 25),
    after: ["rescue-kit"],
  }),
  aloft({
    part: "hoist-antenna",
    name: "Hoist antenna by hand",
    workClass: "hoist",
    people: { climber: 2, ground: 1 },
    wholeParty: true,
    repeat: "antenna",
    when: { lift: "hand" },
    fixed: min(6, 10, 20),
    per: [per("maxMountHeightM", 0.1, 0.2, 0.4), per("antennaMassKg", 0.1, 0.2, 0.4)],
    after: ["rig-hoist", "assemble-antenna", "assemble-radio"],
  }),
  aloft({
    part: "winch-antenna",
    name: "Hoist antenna by winch",
    workClass: "hoist",
    people: { climber: 2, rigger: 1, ground: 1 },
    wholeParty: true,
    repeat: "antenna",
    when: { lift: "winch" },
    fixed: min(15, 25, 50),
    per: [per("maxMountHeightM", 0.15, 0.3, 0.6), per("antennaMassKg", 0.05, 0.1, 0.2)],
    after: ["rig-hoist", "winch", "assemble-antenna", "assemble-radio"],
  }),
  aloft({
    part: "mount-antenna",
    name: "Mount antenna, side struts included",
    people: { climber: 2 },
    repeat: "antenna",
    fixed: min(15, 25, 50),
    per: [per("antennaAreaM2", 10, 18, 35)],
    after: ["hoist-antenna", "winch-antenna"],
  }),
  aloft({
    part: "hoist-radios",
    name: "Hoist ODU, coupling with the first",
    workClass: "hoist",
    people: { climber: 2, ground: 1 },
    wholeParty: true,
    repeat: "ODU",
    when: { groundAssembly: false },
    fixed: min(5, 8, 16),
    per: [per("maxMountHeightM", 0.1, 0.2, 0.4)],
    after: ["mount-antenna"],
  }),
];

const RADIO_ALOFT: readonly TaskTemplate[] = [
  aloft({
    part: "mount-coupler",
    name: "Mount hybrid coupler",
    people: { climber: 2 },
    when: { groundAssembly: false, above: "couplerCount" },
    fixed: min(0, 0, 0),
    per: [per("couplerCount", 10, 18, 35)],
    after: ["hoist-radios", "change-polarisation"],
  }),
  aloft({
    part: "mount-orthomode",
    name: "Mount orthomode coupling",
    people: { climber: 2 },
    when: { groundAssembly: false, above: "orthomodeCount" },
    fixed: min(0, 0, 0),
    per: [per("orthomodeCount", 10, 18, 35)],
    after: ["hoist-radios"],
  }),
  aloft({
    part: "mount-odu",
    name: "Mount ODU on the antenna",
    people: { climber: 2 },
    repeat: "ODU",
    when: { groundAssembly: false, mountings: ["direct"], none: "couplerCount" },
    fixed: min(8, 12, 25),
    after: ["hoist-radios", "mount-orthomode"],
  }),
  aloft({
    part: "mount-odu-on-coupler",
    name: "Mount ODU on coupler",
    people: { climber: 2 },
    repeat: "ODU",
    when: { groundAssembly: false, mountings: ["direct"], above: "couplerCount" },
    fixed: min(8, 12, 25),
    after: ["mount-coupler"],
  }),
  aloft({
    part: "mount-odu-remote",
    name: "Mount ODU on its pole and join the flexible waveguide",
    workClass: "open connection",
    people: { climber: 2 },
    repeat: "ODU",
    when: { mountings: ["remote"] },
    fixed: min(20, 30, 60),
    after: ["hoist-radios", "mount-coupler", "mount-orthomode"],
  }),
  aloft({
    part: "earth-odu",
    name: "Earth ODU frame",
    people: { climber: 1 },
    repeat: "ODU",
    when: { above: "oduLeadCount" },
    fixed: min(0, 0, 0),
    per: [per("oduLeadCount", 6, 10, 20)],
    after: ["mount-antenna", "mount-odu", "mount-odu-on-coupler", "mount-odu-remote"],
  }),
];

const CABLE: readonly TaskTemplate[] = [
  aloft({
    part: "hoist-cable",
    name: "Hoist cable",
    workClass: "hoist",
    people: { climber: 2, ground: 1 },
    wholeParty: true,
    repeat: "run",
    fixed: min(6, 10, 20),
    per: [per("outdoorM", 0.1, 0.2, 0.4)],
    after: [
      "prepare-odu-connector",
      "rig-hoist",
      "mount-antenna",
      "mount-odu",
      "mount-odu-on-coupler",
      "mount-odu-remote",
    ],
  }),
  row({
    part: "route-and-enter",
    name: "Route over the bridge and enter",
    where: "ground",
    workClass: "ground",
    people: { ground: 1 },
    atFoot: true,
    repeat: "run",
    splittable: true,
    fixed: min(5, 8, 16),
    per: [per("bridgeM", 0.4, 0.8, 1.6), per("indoorM", 0.3, 0.6, 1.2)],
    after: ["hoist-cable"],
  }),
  row({
    part: "prepare-idu-connector",
    name: "Trim and prepare the IDU-end connector",
    where: "indoor",
    workClass: "indoor",
    people: { ground: 1 },
    repeat: "run",
    fixed: min(8, 12, 25),
    after: ["route-and-enter"],
  }),
  row({
    part: "test-run",
    name: "End-to-end short and open test",
    where: "indoor",
    workClass: "indoor",
    people: { ground: 1 },
    repeat: "run",
    fixed: min(4, 6, 15),
    after: ["prepare-idu-connector"],
  }),
  aloft({
    part: "fix-cable",
    name: "Fix cable, drip loop included",
    people: { climber: 1 },
    repeat: "run",
    splittable: true,
    fixed: min(5, 8, 15),
    per: [per("outdoorM", 0.2, 0.4, 0.8), per("tieCount", 0.1, 0.2, 0.4)],
    after: ["hoist-cable"],
  }),
  aloft({
    part: "earth-run",
    name: "Earth the run and wrap its earthing points, one after the other",
    workClass: "open connection",
    people: { climber: 1 },
    repeat: "run",
    splittable: true,
    when: { above: "earthingPointCount" },
    fixed: min(0, 0, 0),
    per: [per("earthingPointCount", 8, 12, 24), per("otherWraps", 7, 10, 20)],
    after: ["fix-cable"],
  }),
  aloft({
    part: "connect",
    name: "Connect, supply isolated",
    workClass: "open connection",
    people: { climber: 1 },
    repeat: "run",
    spell: "connection",
    fixed: min(4, 6, 12),
    after: ["hoist-cable", "test-run", "earth-odu"],
  }),
  aloft({
    part: "weatherproof",
    name: "Weatherproof the ODU connector",
    workClass: "open connection",
    people: { climber: 1 },
    repeat: "run",
    spell: "connection",
    fixed: min(0, 0, 0),
    per: [per("connectorWraps", 10, 15, 30)],
    after: ["connect"],
  }),
  aloft({
    part: "label",
    name: "Label ODU, antenna and run",
    people: { climber: 1 },
    repeat: "run",
    splittable: true,
    fixed: min(2, 4, 8),
    after: ["weatherproof"],
  }),
];

const FINISH: readonly TaskTemplate[] = [
  row({
    part: "seal-entry",
    name: "Seal the entry",
    where: "ground",
    workClass: "ground",
    people: { ground: 1 },
    atFoot: true,
    splittable: true,
    when: { above: "entryCount" },
    fixed: min(0, 0, 0),
    per: [per("entryCount", 8, 12, 25)],
    after: ["route-and-enter"],
  }),
  row({
    part: "idu",
    name: "Mount IDU, earth it and prepare its power",
    where: "indoor",
    workClass: "indoor",
    people: { technician: 1 },
    splittable: true,
    fixed: min(25, 40, 80),
    per: [per("oduCount", 3, 5, 10)],
    after: ["briefing"],
  }),
  row({
    part: "line-test",
    name: "Power up and line test",
    where: "indoor",
    workClass: "indoor",
    people: { technician: 1 },
    fixed: min(8, 12, 25),
    per: [per("runCount", 4, 6, 12)],
    after: ["idu", "weatherproof", "label", "earth-run", "test-run"],
  }),
  row({
    part: "clean-up",
    name: "Clean up, photos of the end, sign out",
    where: "ground",
    workClass: "ground",
    everybody: true,
    fixed: min(15, 20, 40),
    after: ["line-test", "seal-entry"],
  }),
];

/** The install visit of one end, from the gate to the line test. */
export const END_TEMPLATES: readonly TaskTemplate[] = [
  ...SETUP,
  ...GROUND_PREPARATION,
  ...LIFTS,
  ...RADIO_ALOFT,
  ...CABLE,
  ...FINISH,
];

/** For an extra task of the design that no row names. */
export const EXTRA_TASK: TaskTemplate = row({
  part: "extra",
  name: "Extra task of the design",
  where: "ground",
  workClass: "ground",
  people: { ground: 1 },
  splittable: true,
  fixed: min(15, 25, 60),
  after: ["briefing"],
});

const bothEnds = (r: Omit<Row, "where" | "workClass"> & Partial<Pick<Row, "workClass">>): TaskTemplate =>
  row({ where: "both ends", workClass: "alignment", ...r });

/**
 * The alignment visit, both ends at once; people are those at each end.
 * `align` takes its minutes from AlignmentModel, the climbs theirs from ClimbModel (alignment.ts).
 */
export const ALIGNMENT_TEMPLATES: readonly TaskTemplate[] = [
  bothEnds({
    part: "alignment-briefing",
    name: "Sign in, briefing, transmitters confirmed reduced or off, call to the far end",
    workClass: "indoor",
    everybody: true,
    isSetup: true,
    fixed: min(15, 25, 50),
    after: [],
  }),
  bothEnds({
    part: "align",
    name: "Align both ends",
    people: { climber: 2 },
    wholeParty: true,
    usesDropZone: true,
    splittable: true, // the antenna is clamped before anyone comes down
    fixed: min(0, 0, 0),
    after: ["alignment-briefing"],
  }),
  bothEnds({
    part: "lock",
    name: "Tighten and mark, levels read again",
    people: { climber: 2 },
    wholeParty: true,
    usesDropZone: true,
    fixed: min(10, 15, 30),
    after: ["align"],
  }),
  bothEnds({
    part: "acceptance",
    name: "Acceptance test and photos",
    workClass: "indoor",
    people: { technician: 1 },
    splittable: true,
    fixed: min(30, 45, 90),
    after: ["lock"],
  }),
  bothEnds({
    part: "alignment-clean-up",
    name: "Clean up and sign out",
    workClass: "ground",
    everybody: true,
    fixed: min(8, 12, 25),
    after: ["acceptance"],
  }),
];
