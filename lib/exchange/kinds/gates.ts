import { phrase } from "@/lib/phrase";
import { sentences } from "@/lib/result";
import { GATE_KINDS } from "@/lib/site";
import { columnsOf } from "../columns";
import type { GateRow } from "../rows";
import type { ImportKind, RowFault } from "../types";
import { BOTH_SIDES, hopCode, SIDE_ALIASES, SIDES } from "./ends";

const c = columnsOf<GateRow>();

export const gates: ImportKind<"gates"> = {
  name: "gates",
  title: "Gates",
  description: "Conditions that must be met before work starts on a hop or one of its ends.",
  key: ["hopCode", "side", "kind"],
  references: [{ columns: ["hopCode"], kinds: ["hops"] }],
  columns: [
    hopCode,
    c.choice("side", "End", "near", "near or far; blank = the gate holds the whole hop.", {
      aliases: ["side", "link end", "hop end"],
      choices: SIDES,
      choiceAliases: { ...SIDE_ALIASES, ...BOTH_SIDES },
    }),
    c.choice("kind", "Gate", "access permit", "Which condition.", {
      required: true,
      aliases: ["gate kind", "kind", "condition"],
      choices: GATE_KINDS,
      choiceAliases: {
        licence: "spectrum licence",
        license: "spectrum licence",
        power: "supply",
        permit: "access permit",
      },
    }),
    c.text("owner", "Owner", "site owner", "Who must act.", { aliases: ["gate owner", "responsible"] }),
    c.choice("state", "State", "dated", "met, dated (expected on the date) or open (no date: not planned).", {
      required: true,
      aliases: ["status"],
      choices: ["met", "dated", "open"],
      choiceAliases: { done: "met", passed: "met", expected: "dated" },
    }),
    c.date("dueOn", "Due on", "2027-01-15", "Expected date, for state dated.", {
      aliases: ["due date", "date", "expected on"],
    }),
  ],
  check(row): RowFault[] {
    if (row.state === "dated" && row.dueOn === undefined) {
      return [
        {
          key: "dueOn",
          rule: "dated-gate-without-date",
          ...sentences(
            phrase("The gate is dated and has no date."),
            phrase("Give the expected date, or set the state to open."),
          ),
        },
      ];
    }
    return [];
  },
};
