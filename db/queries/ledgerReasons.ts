import { english, phrase } from "@/lib/phrase";

/** What the ledger itself writes down as the reason of a row: kept in English, read back by screens in another language. */
export const LEDGER_REASONS = {
  opening: "Opening stock",
  issuedShort: "Kit issued short: {{why}}",
  issued: "Kit issued",
  returned: "Unused, returned",
  counted: "Count {{id}}: {{n}} counted by {{name}}, {{m}} in the ledger",
  cutAsListed: "{{label}}: {{n}} m, as listed",
  cutOtherwise: "{{label}}: {{n}} m, listed {{m}} m",
  saw: "Saw allowance of {{label}}",
  scrapped: "Scrapped: {{why}}",
  transfer: "Planned transfer {{id}}",
  used: "Reported used by {{name}}",
  usedOtherwise: "Report corrected by {{name}}",
} as const;

export const ledgerReason = (
  kind: keyof typeof LEDGER_REASONS,
  values: Readonly<Record<string, string>> = {},
): string => english(phrase(LEDGER_REASONS[kind], values));
