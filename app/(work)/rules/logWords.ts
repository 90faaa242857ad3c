/** What entries of the log keep, in the reader's language: names of their fields, states, and the sentences of some. */
import { OWN_LANGUAGE } from "@/app/_ui/language/languages";
import type { Words } from "@/app/_ui/language/words";
import { whyWords } from "@/app/(work)/plan/why";
import { KIND_NAMES, kindOf } from "@/lib/exchange";
import { visitPhrase } from "@/lib/visitIds";
import { figureName } from "./figureWords";

/** Names of fields as they are read, their units said apart. A field that is not here stays as it is kept. */
const FIELDS = [
  // who, when, why
  ...["name", "email", "role", "crew", "regions", "reason", "why", "note", "by", "on", "at", "ended"],
  ...["replaces", "replaced", "before", "after", "from", "to", "id", "scopes", "days", "version", "based on"],
  ...["changes", "changed", "added", "field", "rule", "restored", "proposals", "proposed", "unit", "value"],
  ...["work class", "is looser", "skill", "from on", "to on", "files", "file name", "currency", "subject"],
  ...["sent by", "taken at", "label", "outlines", "template", "attribution"],
  // hops and plans
  ...["hop code", "side", "odu label", "in place of", "kind", "owner", "state", "due on", "rows", "counts"],
  ...["readings", "asked id", "passed", "taken on", "is correction", "opened", "remedy", "target level"],
  ...["weather series"],
  ...["visit", "visit id", "visit ids", "broken", "edit", "crew code", "start on", "start", "end on", "end"],
  ...["outcome", "worked", "left", "hold reason"],
  // stock
  ...[
    "item",
    "item code",
    "serial",
    "serials",
    "new serial",
    "cause",
    "quantity",
    "of",
    "place",
    "place code",
    "run",
  ],
  ...["length", "planned", "metres", "row", "lines", "line no", "adjusted", "counted by", "short reason"],
  ...[
    "repairer",
    "reference",
    "expected back on",
    "is awaited",
    "decided",
    "rest",
    "supplier",
    "over reason",
  ],
  ...["from place", "to place", "send on", "arrive on", "price", "from quantity", "price breaks", "lot rule"],
  ...["order multiple", "minimum order", "order cost", "holding share per year", "safety stock"],
  // the norms' and the take-off's rows
  ...["category", "driver", "factor", "offset", "allowance", "measure", "step", "level", "when", "source"],
  ...["enabled"],
] as const;

/** States and kinds that stand as values. */
const VALUES = [
  ...["none", "yes", "no", "blank", "new", "taken out", "no end", "as delivered"],
  ...[
    "done",
    "part done",
    "hold",
    "open",
    "dated",
    "met",
    "accepted",
    "passed",
    "failed",
    "near",
    "far",
    "both",
  ],
  ...["survey", "structure approval", "site ready", "supply", "spectrum licence", "access permit"],
  ...["receive level", "cross-polar", "switch-over", "earth resistance", "error run", "photos"],
  ...["administrator", "manager", "logistics", "crew lead", "climber", "rescue", "ground", "rigger"],
  ...["technician", "proposed", "approved", "sent", "partly received", "closed", "moved", "cancelled"],
  ...["dead on arrival", "failed in service", "doubtful", "to repair", "from repair", "exchange", "release"],
  ...["return", "scrap", "faulty", "exchanged", "written wrong"],
] as const;

/** Keys of the catalogue: words of the log are read apart from the same words elsewhere. */
export const LOG_WORDS: readonly string[] = [
  ...FIELDS.map((name) => fieldKey(name)),
  ...VALUES.map((value) => valueKey(value)),
  "{{field}}: {{from}} to {{to}}",
];

function fieldKey(name: string): string {
  return `${name} (field of the log)`;
}

function valueKey(value: string): string {
  return `${value} (in the log)`;
}

const KNOWN_FIELDS: ReadonlySet<string> = new Set(FIELDS);
const KNOWN_VALUES: ReadonlySet<string> = new Set(VALUES);

/** Fields whose kept name is no English that anybody says. */
const ENGLISH: ReadonlyMap<string, string> = new Map([
  ...["visit", "hop", "crew", "item", "place"].flatMap((thing) => [
    [`${thing} id`, thing] as const,
    [`${thing} code`, thing] as const,
  ]),
  ["visit ids", "visits"],
  ["asked id", "reading"],
  ["odu label", "radio"],
  ["line no", "line"],
  ["opened", "new revisit"],
]);

export const fieldSaid = (name: string, { language, t }: Words): string => {
  if (language === OWN_LANGUAGE) return ENGLISH.get(name) ?? name;
  return KNOWN_FIELDS.has(name) ? t(fieldKey(name)) : name;
};

/** Fields whose values people wrote, or that are names: "done" in a reason is no state. */
const AS_WRITTEN: ReadonlySet<string> = new Set([
  ...["name", "reason", "why", "note", "label", "owner", "overReason", "shortReason", "holdReason"],
  ...[
    "supplier",
    "repairer",
    "reference",
    "serial",
    "serials",
    "newSerial",
    "files",
    "attribution",
    "template",
  ],
  ...["item", "itemCode", "placeCode", "fromPlace", "toPlace", "crewCode", "hopCode", "countedBy", "sentBy"],
]);

/** A text of an entry; `field` is the name under which it stands, as it is kept. */
export function valueSaid(value: string, field: string | undefined, words: Words): string {
  const { language, t, say } = words;
  if (field === undefined || !AS_WRITTEN.has(field)) {
    const visit = visitPhrase(value);
    if (typeof visit !== "string") return say(visit);
  }
  // "near/receive level/R1": what is read where.
  if (field === "askedId")
    return value
      .split("/")
      .map((part) => valueSaid(part, undefined, words))
      .join(" ");
  if (language === OWN_LANGUAGE) return value;
  if (field === "changes") return changeSaid(value, words);
  if (field === "broken") return whyWords(value, words);
  // The name of a figure with its group: "Cutting: Saw cut".
  if (field === "label" && value.includes(": "))
    return value
      .split(": ")
      .map((part) => figureName(part, words))
      .join(": ");
  if (field !== undefined && AS_WRITTEN.has(field)) return value;
  if (field === "remedy") return t(value);
  return stateSaid(value, words);
}

/** A state or a kind, or a text that stays as it is. */
function stateSaid(text: string, { t }: Words): string {
  if (KNOWN_VALUES.has(text)) return t(valueKey(text));
  return CHOICES.has(text) ? t(text) : text;
}

/** What a field held before or after: what somebody wrote may read like a state, the choices of a field do not. */
function sideSaid(text: string, { t }: Words): string {
  if (text === "blank") return t(valueKey("blank"));
  return CHOICES.has(text) ? t(text) : text;
}

const TITLES: readonly string[] = KIND_NAMES.map((name) => kindOf(name).title);

/** Texts that a field of a record may have, and no other: "2+0 two channels". */
const CHOICES: ReadonlySet<string> = new Set(
  KIND_NAMES.flatMap((name) => kindOf(name).columns.flatMap((column) => column.choices ?? [])),
);

/** One field of a record that was changed by hand: "Antennas VH001/near/A1, Mount height: 30 to 32". */
export function changeSaid(change: string, words: Words): string {
  const { language, t } = words;
  if (language === OWN_LANGUAGE) return change;
  for (const title of TITLES) {
    const inRow = change.startsWith(`${title} `) ? change.indexOf(", ", title.length) : -1;
    if (inRow > 0)
      return `${t(title)} ${change.slice(title.length + 1, inRow)}, ${changeSaid(change.slice(inRow + 2), words)}`;
  }
  const [, field, from, to] = /^([^:]+): (.*) to (.*)$/.exec(change) ?? [];
  if (field === undefined || from === undefined || to === undefined)
    return KNOWN_VALUES.has(change) ? t(valueKey(change)) : change;
  return t("{{field}}: {{from}} to {{to}}", {
    field: t(field),
    from: sideSaid(from, words),
    to: sideSaid(to, words),
  });
}
