/** The programme's need: ends added up exactly and rounded once where the rule says so. */
import { figure, roundUp, tidy } from "./rounding";
import type {
  EndTakeoff,
  HopTakeoff,
  ProgrammeLine,
  ProgrammeNeed,
  RoundingLevel,
  TakeoffLine,
  TakeoffRule,
} from "./types";

interface Entry {
  line: TakeoffLine;
  endId: string;
  siteId: string;
  level: RoundingLevel;
  step: number;
}

/**
 * Adds up any number of hops. Lines of level "order" and "site" are added exactly and rounded up once, over the
 * order or over each site; lines of level "run" and "end" were rounded where they arose and are added as they are.
 * Beside it stands what rounding up at every site would give: 40 sites of one run each need 84 connectors, not 120.
 *
 * @param rules the current rules; a line whose rule is among them takes that rule's level and step
 */
export function rollUp(takeoffs: readonly HopTakeoff[], rules: readonly TakeoffRule[]): ProgrammeNeed {
  const ruleOf = new Map(rules.map((r) => [r.id, r]));
  const items = new Map<string, Entry[]>();
  const failingEndIds: string[] = [];
  for (const { near, far, checks } of takeoffs) {
    const hopFails = checks.some((c) => c.state === "fail");
    for (const end of [near, far]) {
      if (hopFails || end.checks.some((c) => c.state === "fail")) failingEndIds.push(end.endId);
      for (const line of end.lines) addTo(items, line, end, ruleOf.get(line.ruleId));
    }
  }
  return {
    lines: [...items.entries()]
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([, entries]) => programmeLine(entries)),
    failingEndIds,
  };
}

function addTo(
  items: Map<string, Entry[]>,
  line: TakeoffLine,
  end: EndTakeoff,
  rule: TakeoffRule | undefined,
): void {
  const key = `${line.itemCode}|${line.owner}`;
  const entry = {
    line,
    endId: end.endId,
    siteId: end.siteId,
    level: rule?.level ?? line.level,
    step: rule?.step ?? line.step,
  };
  const entries = items.get(key);
  if (entries) entries.push(entry);
  else items.set(key, [entry]);
}

function programmeLine(entries: readonly Entry[]): ProgrammeLine {
  const { line } = entries[0]!;
  const of = (...levels: RoundingLevel[]) => entries.filter((e) => levels.includes(e.level));
  const whereItArose = of("run", "end").reduce((sum, e) => sum + roundedAtEnd(e), 0);
  const perSite = roundedPerSite(of("site"));
  const overOrder = roundedOnce(of("order"));
  const exact = tidy(entries.reduce((sum, e) => sum + e.line.exact, 0));
  const quantity = tidy(whereItArose + perSite + overOrder);
  // What was rounded where it arose stays so in the comparison; everything else is rounded at its site.
  const siteRounded = tidy(whereItArose + roundedPerSite(of("site", "order")));
  const endCount = new Set(entries.map((e) => e.endId)).size;
  return {
    itemCode: line.itemCode,
    name: line.name,
    unit: line.unit,
    owner: line.owner,
    exact,
    quantity,
    siteRounded,
    endCount,
    ruleIds: [...new Set(entries.map((e) => e.line.ruleId))].sort(),
    reason:
      `${figure(quantity)} ${line.unit} for ${figure(exact)} exact over ${endCount} ends` +
      (siteRounded > quantity ? `; rounded at every site it would be ${figure(siteRounded)}` : ""),
  };
}

/** A line that its rule now rounds at the end: as it came when the level is unchanged, else rounded anew. */
const roundedAtEnd = (e: Entry): number =>
  e.line.level === e.level && e.line.step === e.step ? e.line.quantity : roundUp(e.line.exact, e.step);

/** All entries together, rounded up once to the coarsest of their steps. */
function roundedOnce(entries: readonly Entry[]): number {
  if (entries.length === 0) return 0;
  let exact = 0;
  let step = 0;
  for (const e of entries) {
    exact += e.line.exact;
    step = Math.max(step, e.step);
  }
  return roundUp(exact, step);
}

function roundedPerSite(entries: readonly Entry[]): number {
  const sites = new Map<string, Entry[]>();
  for (const e of entries) {
    const site = sites.get(e.siteId);
    if (site) site.push(e);
    else sites.set(e.siteId, [e]);
  }
  let total = 0;
  for (const site of sites.values()) total += roundedOnce(site);
  return total;
}
