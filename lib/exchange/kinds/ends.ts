/** Columns that every row about a link end begins with. */
import { phrase } from "@/lib/phrase";
import { sentences } from "@/lib/result";
import type { EndSide } from "@/lib/site";
import { columnsOf } from "../columns";
import type { HopRow, KindName } from "../rows";
import type { RowFault } from "../types";

interface AtEnd {
  hopCode: string;
  side: EndSide;
  siteCode?: string;
}

const c = columnsOf<AtEnd>();

export const SIDES: readonly EndSide[] = ["near", "far"];

/** For gates, where a blank side holds the whole hop. */
export const BOTH_SIDES = { both: "", hop: "", "whole hop": "" } as const;

export const SIDE_ALIASES: Readonly<Record<string, string>> = {
  a: "near",
  "a-end": "near",
  "near end": "near",
  n: "near",
  b: "far",
  z: "far",
  "b-end": "far",
  "far end": "far",
  f: "far",
};

export const hopCode = c.text("hopCode", "Hop", "MW-101", "Code of the hop.", {
  required: true,
  aliases: ["hop code", "link", "link id", "link code", "hop id"],
  maxLength: 60,
});

export const side = c.choice("side", "End", "near", "Which end of the hop: near or far.", {
  required: true,
  aliases: ["side", "link end", "hop end"],
  choices: SIDES,
  choiceAliases: SIDE_ALIASES,
});

export const siteCode = c.text(
  "siteCode",
  "Site",
  "KAR-014",
  "Site of this end. May be left out; when given it must be the hop's near or far site.",
  { aliases: ["site code", "site id"], maxLength: 60, isCheckOnly: true },
);

export const OWNERS = ["contractor", "customer"] as const;

/** The hop must have a site at this end, and the row's own site, when it names one, must be that one. */
export function endSiteFaults(row: AtEnd, find: (kind: KindName, key: string) => unknown): RowFault[] {
  const hop = find("hops", row.hopCode) as HopRow | undefined;
  if (!hop) return [];
  const expected = row.side === "near" ? hop.nearSiteCode : hop.farSiteCode;
  if (expected === undefined) {
    return [
      {
        key: "side",
        rule: "end-without-site",
        value: row.side,
        ...sentences(
          phrase('Hop "{{hop}}" has no site at its {{side}} end.', {
            hop: row.hopCode,
            side: phrase(row.side),
          }),
          phrase("Give the hop its {{side}} site first, or in the same import.", { side: phrase(row.side) }),
        ),
      },
    ];
  }
  if (row.siteCode === undefined || row.siteCode === expected) return [];
  return [
    {
      key: "siteCode",
      rule: "site-differs-from-hop",
      value: row.siteCode,
      ...sentences(
        phrase('The {{side}} end of hop "{{hop}}" is on site "{{expected}}", not "{{site}}".', {
          side: phrase(row.side),
          hop: row.hopCode,
          expected,
          site: row.siteCode,
        }),
        phrase("Correct the site or the end here, or change the hop's site in the hops file."),
      ),
    },
  ];
}
