import { LOST } from "@/app/_client/ask";
import { NOT_REACHED } from "@/app/_client/useSend";
import { SIGN_IN_REFUSALS } from "@/app/_server/signInRefusals";
import { ROW_WORD } from "@/app/_ui/DataTable";
import { NOTICE_WORDS } from "@/app/_ui/Notice";
import { MORE_PLACES, PLACES, ROLE_WORDS } from "@/app/_ui/nav";
import { CAUTION } from "@/app/_ui/Shell";
import { STATES } from "@/app/_ui/states";
import { visitWords } from "@/app/_ui/visitWords";
import { GLYPHS } from "@/app/(work)/find/FindDialog";
import { MISSING_WORDS } from "@/app/(work)/week/visit/[...visitId]/materialWords";
import { READING_TEXTS } from "@/lib/acceptance";
import { CLIMB_NAME } from "@/lib/calibration";
import { DEFAULT_NORMS } from "@/lib/hours";
import { PHOTO_MOST_BYTES, PHOTO_SUBJECTS } from "@/lib/photos";
import { RUN_LINE_NAME } from "@/lib/programme";
import { SCHEMES } from "@/lib/site";

import { SAID_IN_DESIGN } from "./saidInDesign";
import { SAID_IN_LOGISTICS } from "./saidInLogistics";
import { SAID_IN_PLANNING } from "./saidInPlanning";

/** Texts that the code says through a variable. */
export const SAID_BY_NAME: readonly string[] = [
  ...SAID_IN_PLANNING,
  ...SAID_IN_LOGISTICS,
  ...SAID_IN_DESIGN,
  CAUTION,
  ...PLACES.flatMap((p) => [p.label, p.short]),
  ...MORE_PLACES.flatMap((p) => [p.label, p.detail]),
  ...Object.keys(GLYPHS),
  ...Object.values(NOTICE_WORDS),
  ...Object.values(MISSING_WORDS),
  `A photo may have up to ${PHOTO_MOST_BYTES / 1e6} MB.`,
  ...Object.values(SIGN_IN_REFUSALS),
  ...Object.values(ROW_WORD),
  ...[LOST, NOT_REACHED].flatMap((p) => [p.message, p.remedy]),
  // Spoken names of parts that know of no language.
  ...["Pages above", "About the data", "Problem", "Remove"],
  ...["yes", "no"],
  ...Object.values(ROLE_WORDS),
  ...Object.keys(ROLE_WORDS),
  ...Object.values(STATES).map((s) => s.word),
  ...(["install", "alignment", "acceptance", "revisit"] as const).flatMap((kind) => [
    kind,
    visitWords(kind),
    visitWords(kind, { acceptance: "own visit" }),
  ]),
  ...["align again", "connections", "earthing", "indoor unit"].flatMap((remedy) => [
    remedy,
    visitWords("revisit", { remedy }),
  ]),
  ...[...DEFAULT_NORMS.templates, ...DEFAULT_NORMS.alignmentTemplates, DEFAULT_NORMS.extraTask].map(
    (t) => t.name,
  ),
  // Parts that a report gives minutes for, and runs in its kit.
  ...[CLIMB_NAME, RUN_LINE_NAME],
  ...SCHEMES,
  ...READING_TEXTS,
  ...PHOTO_SUBJECTS.map((s) => s.name),
  // Words of the design and of the steps.
  ...["near", "far", "near end", "far end", "low half", "high half", "V", "H"],
  ...["main", "standby", "channel 1", "channel 2", "diversity", "pole", "face", "roof stand"],
  ...["near ODU", "structure foot", "entry", "intermediate", "middle"],
  ...["ground", "aloft", "indoor", "both ends", "On the ground", "Aloft", "Indoors", "Both ends together"],
  ...["done", "part done", "hold", "Done", "Part done, we come back", "On hold"],
  ...["As the device", "Light", "Dark"],
  ...["Taken", "Not taken", "Passed", "Did not pass", "dBm", "dB", "ohm", "errored seconds"],
];
