/** Radios, antennas and couplings of an end: which catalogue items they are, and their lines. Counted, not ruled. */
import type {
  AntennaPosition,
  CatalogueItem,
  ItemCategory,
  LinkEnd,
  Odu,
  Owner,
  Polarisation,
  Scheme,
} from "@/lib/site";
import {
  ambiguousItem,
  type CatalogueIndex,
  type Fit,
  findItem,
  missingCode,
  noCatalogueItem,
  wanted,
} from "./catalogue";
import { countEnd, type EndCounts } from "./counts";
import { antennaKgFromMemory, type Lift, liftsOf } from "./masses";
import { figure } from "./rounding";
import type { DesignCheck, FullPolicy, TakeoffLine } from "./types";
import { pass, warn } from "./verdict";

/** Common practice: a coupler comes set for vertical polarisation unless the catalogue says otherwise. */
export const FACTORY_POLARISATION: Polarisation = "V";

export interface Equipment {
  counts: EndCounts;
  /** ODU label -> catalogue item. */
  radios: ReadonlyMap<string, CatalogueItem>;
  lines: readonly TakeoffLine[];
  checks: readonly DesignCheck[];
  lifts: readonly Lift[];
  /** All antennas together, kg. */
  antennaMassKg: number;
  polarisationChanges: number;
  /** Changes whose part does not come in the coupler's box. */
  partsToBuy: number;
  extraTasks: readonly string[];
}

/** Finds the end's radios, antennas and couplings in the catalogue. */
export function findEquipment(
  scheme: Scheme,
  end: LinkEnd,
  index: CatalogueIndex,
  policy: FullPolicy,
): Equipment {
  const counts = countEnd(scheme, end);
  const checks: DesignCheck[] = [];
  const find = (category: ItemCategory, fit: Fit, where: string) => {
    const { item, fitting } = findItem(index, category, fit);
    if (!item) checks.push(noCatalogueItem(where, wanted(category, fit), category));
    else if (fitting.length > 1) checks.push(ambiguousItem(where, wanted(category, fit), fitting));
    return item;
  };

  const odus = end.odus.map((odu) => ({ odu, item: find("ODU", odu, odu.label) }));
  const antennas = end.antennas.map((a) => ({ antenna: a, item: find("antenna", a, a.label) }));
  const couplings = couplingsOf(end, counts, policy).map((c) => ({
    ...c,
    item: find(c.category, c.fit, c.where),
  }));

  const changes = couplings.filter(
    (c) => c.item && c.category === "hybrid coupler" && c.polarisation !== factoryOf(c.item),
  );
  for (const { where, item, polarisation } of changes)
    checks.push(polarisationPart(where, item!, polarisation));
  for (const { where, item, fit } of couplings) {
    if (item?.category === "hybrid coupler") checks.push(couplerLoss(where, item, fit));
  }

  const antennaKg = new Map(
    antennas.map(({ antenna, item }) => [
      antenna.label,
      item?.massKg ?? antennaKgFromMemory(antenna.diameterM),
    ]),
  );
  return {
    counts,
    radios: new Map(odus.flatMap(({ odu, item }) => (item ? [[odu.label, item] as const] : []))),
    lines: [
      ...grouped(
        "ODU",
        odus.map(({ odu, item }) => ({ item, owner: odu.owner, what: oduText(odu) })),
      ),
      ...grouped(
        "antenna",
        antennas.map(({ antenna, item }) => ({ item, owner: antenna.owner, what: antennaText(antenna) })),
      ),
      ...(["hybrid coupler", "orthomode coupling"] as const).flatMap((category) =>
        grouped(
          category,
          couplings
            .filter((c) => c.category === category)
            .map((c) => ({
              item: c.item,
              owner: c.item?.owner ?? c.owner,
              what: `on ${c.where} for ${scheme}`,
            })),
        ),
      ),
    ],
    checks,
    lifts: liftsOf(
      end,
      couplings.map((c) => c.item?.massKg ?? 0),
      (antenna) => antennaKg.get(antenna.label)!,
      new Map(odus.map(({ odu, item }) => [odu.label, item?.massKg ?? 0])),
    ),
    antennaMassKg: [...end.antennas].reduce((kg, a) => kg + antennaKg.get(a.label)!, 0),
    polarisationChanges: changes.length,
    partsToBuy: changes.filter((c) => c.item!.attributes.polarisationPartInBox === false).length,
    // Only work is a task: that the removed part is kept is said by the check and by the step itself.
    extraTasks: changes.map(() => "change polarisation part"),
  };
}

interface Coupling {
  category: "hybrid coupler" | "orthomode coupling";
  /** Label of the antenna it sits on. */
  where: string;
  fit: Fit;
  polarisation: Polarisation;
  owner: Owner;
}

/** One coupling per antenna that ODUs share, as many as counted. */
function couplingsOf(end: LinkEnd, counts: EndCounts, policy: FullPolicy): Coupling[] {
  const total = counts.couplers + counts.orthomodeCouplings;
  const category = counts.couplers > 0 ? "hybrid coupler" : "orthomode coupling";
  const labels = [...new Set(end.odus.map((o) => o.antennaLabel))].sort();
  return Array.from({ length: total }, (_, i) => {
    const where = labels[i] ?? end.antennas[0]?.label ?? end.side;
    const odu = end.odus.find((o) => o.antennaLabel === where);
    const antenna = end.antennas.find((a) => a.label === where);
    return {
      category,
      where,
      fit: { bandGhz: antenna?.bandGhz ?? odu?.bandGhz, split: end.couplerSplit ?? policy.couplerSplit },
      polarisation: odu?.polarisation ?? antenna?.polarisations[0] ?? FACTORY_POLARISATION,
      owner: odu?.owner ?? "customer",
    };
  });
}

const factoryOf = (coupler: CatalogueItem): Polarisation =>
  coupler.attributes.factoryPolarisation ?? FACTORY_POLARISATION;

function polarisationPart(where: string, coupler: CatalogueItem, polarisation: Polarisation): DesignCheck {
  const inBox = coupler.attributes.polarisationPartInBox !== false;
  return warn("polarisation-part", where, {
    message: `${coupler.code} comes set for ${factoryOf(coupler)}, the antenna works on ${polarisation}: the task "change polarisation part" is added.`,
    remedy: inBox
      ? "Use the part in the coupler's box; keep the removed part with the site's spares."
      : "Its part is not in the box and is planned as a line; keep the removed part with the site's spares.",
  });
}

function couplerLoss(where: string, coupler: CatalogueItem, fit: Fit): DesignCheck {
  const { mainLossDb, standbyLossDb } = coupler.attributes;
  if (mainLossDb === undefined || standbyLossDb === undefined) {
    return warn("coupler-loss", where, {
      message: `The loss of ${coupler.code} is not in the catalogue; it belongs to the record handed over.`,
      remedy: "Enter the losses of the main and the standby port from the maker's data sheet.",
    });
  }
  return pass("coupler-loss", where, {
    message: `${coupler.code}, ${fit.split} split: main port ${figure(mainLossDb)} dB, standby port ${figure(standbyLossDb)} dB.`,
    remedy: "Hand it over with the acceptance record.",
    figure: Math.max(mainLossDb, standbyLossDb),
    unit: "dB",
  });
}

const oduText = (odu: Odu): string => `${odu.label} ${odu.role}`;
const antennaText = (a: AntennaPosition): string =>
  `${a.label} ${figure(a.diameterM)} m ${a.polarisations.join("+")}`;

interface Piece {
  item?: CatalogueItem;
  owner: Owner;
  what: string;
}

/** One line per item and owner. */
function grouped(category: ItemCategory, pieces: readonly Piece[]): TakeoffLine[] {
  const groups = new Map<string, Piece[]>();
  for (const piece of pieces) {
    const key = `${piece.item?.code ?? missingCode(category)}|${piece.owner}`;
    groups.set(key, [...(groups.get(key) ?? []), piece]);
  }
  return [...groups.values()].map((group) => {
    const { item, owner } = group[0]!;
    return {
      ruleId: `count:${category}`,
      itemCode: item?.code ?? missingCode(category),
      name: item?.name ?? category,
      unit: item?.unit ?? "piece",
      owner,
      exact: group.length,
      quantity: group.length,
      level: "end",
      step: 1,
      reason: `${group.length} = ${group.map((p) => p.what).join(", ")}`,
    };
  });
}
