import { english, phrase } from "@/lib/phrase";

/**
 * What the ledger itself writes down as the reason of a row: kept in English, read back by screens in another language.
 * The first that fits is taken, so the more special ones come first.
 */
export const LEDGER_REASONS = {
  opening: "Opening stock",
  openingFile: "Opening stock from a file",
  fromFile: "Quantity from a file",
  receivedOver: "Received from {{supplier}}: {{why}}",
  received: "Received from {{supplier}}",
  receivedWrong: "Wrong item, received from {{supplier}}: {{why}}",
  heldAtDoor: "On hold at receipt of {{code}}: {{why}}",
  deadOnArrival: "Dead on arrival: {{why}}",
  failedInService: "Failed in service: {{why}}",
  doubtful: "Doubtful: {{why}}",
  parted: "Decided in parts",
  inPlaceOf: "In place of {{code}}: {{why}}",
  issuedShort: "Kit issued short: {{why}}",
  issued: "Kit issued",
  returned: "Unused, returned",
  countedByHand: "Counted {{n}}, ledger {{m}}: {{why}}",
  counted: "Count {{id}}: {{n}} counted by {{name}}, {{m}} in the ledger",
  cutAsListed: "{{label}}: {{n}} m, as listed",
  cutOtherwise: "{{label}}: {{n}} m, listed {{m}} m",
  saw: "Saw allowance of {{label}}",
  scrapped: "Scrapped: {{why}}",
  transfer: "Planned transfer {{id}}",
  used: "Reported used by {{name}}",
  usedOtherwise: "Report corrected by {{name}}",
  // What the demonstration begins with.
  usedBefore: "Used in the programme before this one",
  drumBefore: "Drum of the programme before this one",
  cutBefore: "Cut for earlier work",
  stagesBefore: "For the stages before this one",
} as const;

export const ledgerReason = (
  kind: keyof typeof LEDGER_REASONS,
  values: Readonly<Record<string, string>> = {},
): string => english(phrase(LEDGER_REASONS[kind], values));

/** Who booked what the demonstration begins with: no person, so said like a reason. */
export const LEDGER_BEGINNERS = ["Opening stock", "Earlier work"] as const;
