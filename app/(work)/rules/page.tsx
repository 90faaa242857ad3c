import type { Metadata } from "next";
import Link from "next/link";
import type { ReactNode } from "react";
import { homeZone } from "@/app/_server/clock";
import { rolesPhrase } from "@/app/_server/roles";
import { EFFECT_FIRST, MAY_CHANGE, POLICY_KINDS } from "@/app/_server/ruleChange";
import { bodyInForce } from "@/app/_server/ruleEdits";
import { figuresOf, peopleWords } from "@/app/_server/ruleFigures";
import { requireRoleInRegions, type Visitor } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { formatInstant } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { PageHead } from "@/app/_ui/PageHead";
import { CAUTION } from "@/app/_ui/Shell";
import { Tabs } from "@/app/_ui/Tabs";
import { type Db, database } from "@/db/open";
import { loadCatalogue, policyHistory } from "@/db/queries/catalogue";
import { planInForce } from "@/db/queries/plans";
import { siteRegions } from "@/db/queries/regions";
import { versionInForce } from "@/db/queries/rules";
import { crewCodes } from "@/db/queries/week";
import type { PolicyKind } from "@/db/schema";
import type { HourNorms, TaskTemplate } from "@/lib/hours";
import { english } from "@/lib/phrase";
import { ANTENNA_MOUNTS, ITEM_CATEGORIES, SCHEMES } from "@/lib/site";
import { DRIVERS, type TakeoffRule } from "@/lib/takeoff";
import { AccountsTab } from "./AccountsTab";
import { accountRows } from "./accountRows";
import { CrewsTab } from "./CrewsTab";
import { FiguresTab } from "./FiguresTab";
import { History } from "./History";
import { InterfaceTab } from "./InterfaceTab";
import { keyRows } from "./interfaceRows";
import { LogTab } from "./LogTab";
import { NormTable } from "./NormTable";
import { RuleTable } from "./RuleTable";

export const metadata: Metadata = { title: "Rules" };

const TABS = {
  takeoff: "Take-off rows",
  figures: "Take-off figures",
  weather: "Weather limits",
  hours: "Hour norms",
  plan: "Plan and cutting",
  stock: "Stock",
  acceptance: "Acceptance",
  crews: "Crews",
  accounts: "Accounts",
  interface: "Interface",
  log: "Log",
} as const;
type TabName = keyof typeof TABS;

interface RulesPageProps {
  searchParams: Promise<Record<string, string | undefined>>;
}

export default async function RulesPage({ searchParams }: RulesPageProps) {
  const visitor = await requireRoleInRegions();
  const params = await searchParams;
  const isAdministrator = visitor.role === "administrator";
  const seen = (Object.keys(TABS) as TabName[]).filter((t) =>
    t === "accounts" || t === "interface" ? isAdministrator : t === "log" ? visitor.regions === null : true,
  );
  const tab = seen.find((t) => t === params.tab) ?? "takeoff";
  const db = database();
  return (
    <>
      <PageHead
        title="Rules"
        lead="What material, hours, weather windows and plans are worked out from, who changed it and why."
        actions={
          <>
            {isAdministrator ? <LinkButton href="/jobs">Long work</LinkButton> : null}
            <LinkButton href="/account">Your account</LinkButton>
          </>
        }
      />
      <PlanBehind db={db} visitor={visitor} />
      <Tabs
        label="Views of the rules"
        tabs={seen.map((t) => ({ href: `/rules?tab=${t}`, label: TABS[t], current: t === tab }))}
      />
      <TabBody tab={tab} db={db} visitor={visitor} params={params} />
    </>
  );
}

/** Says when the plan in force was made with other versions than those in force now. */
function PlanBehind({ db, visitor }: { db: Db; visitor: Visitor }) {
  const plan = planInForce(db);
  const made = plan?.basis.versions as Record<string, number> | undefined;
  if (!plan || !made) return null;
  const behind = POLICY_KINDS.filter((k) => (made[k] ?? 0) !== versionInForce(db, k));
  if (behind.length === 0) return null;
  const maySolve = isPlanner(visitor);
  return (
    <Notice
      kind="warn"
      title="The plan in force was made with earlier rules"
      action={maySolve ? <LinkButton href="/plan/solve">Solve anew</LinkButton> : undefined}
    >
      {behind
        .map((k) => `${k}: made with version ${made[k] ?? 0}, in force is ${versionInForce(db, k)}`)
        .join("; ")}
      . Dates and kits follow only with a new plan.
    </Notice>
  );
}

const isPlanner = ({ role, regions }: Visitor) =>
  regions === null && (role === "administrator" || role === "manager");

/** Rules hold for the whole programme: an account that is limited to regions reads them. */
const mayChange = ({ role, regions }: Visitor, kind: PolicyKind) =>
  regions === null && MAY_CHANGE[kind].includes(role);

interface TabProps {
  tab: TabName;
  db: Db;
  visitor: Visitor;
  params: Record<string, string | undefined>;
}

function TabBody({ tab, db, visitor, params }: TabProps): ReactNode {
  const may = (kind: PolicyKind) => mayChange(visitor, kind);
  switch (tab) {
    case "takeoff":
      return (
        <Sheet db={db} kind="takeoff rules" visitor={visitor}>
          <RuleTable
            rules={bodyInForce(db, "takeoff rules") as TakeoffRule[]}
            basedOn={versionInForce(db, "takeoff rules")}
            mayEdit={may("takeoff rules")}
            choices={ruleChoices(db)}
          />
        </Sheet>
      );
    case "figures":
      return (
        <Sheet db={db} kind="takeoff policy" visitor={visitor}>
          <FiguresTab db={db} kind="takeoff policy" mayEdit={may("takeoff policy")} />
        </Sheet>
      );
    case "weather":
      return (
        <Sheet db={db} kind="weather limits" visitor={visitor}>
          <FiguresTab
            db={db}
            kind="weather limits"
            mayEdit={may("weather limits")}
            reasonHint={looserHint(visitor)}
          />
        </Sheet>
      );
    case "hours":
      return <HoursTab db={db} visitor={visitor} mayEdit={may("hour norms")} />;
    case "plan":
      return (
        <div className="grid gap-6">
          <Sheet db={db} kind="plan weights" visitor={visitor}>
            <FiguresTab db={db} kind="plan weights" mayEdit={may("plan weights")} />
          </Sheet>
          <Sheet db={db} kind="cutting" visitor={visitor}>
            <FiguresTab db={db} kind="cutting" mayEdit={may("cutting")} />
          </Sheet>
        </div>
      );
    case "stock":
      return (
        <Sheet db={db} kind="stock" visitor={visitor}>
          <FiguresTab db={db} kind="stock" mayEdit={may("stock")} />
        </Sheet>
      );
    case "acceptance":
      return (
        <Sheet db={db} kind="acceptance limits" visitor={visitor}>
          <FiguresTab db={db} kind="acceptance limits" mayEdit={may("acceptance limits")} />
        </Sheet>
      );
    case "crews":
      return <CrewsTab db={db} mayEdit={isPlanner(visitor)} />;
    case "accounts":
      return (
        <AccountsTab
          people={accountRows(db)}
          crews={crewCodes(db)}
          regions={siteRegions(db)}
          ownId={visitor.userId}
        />
      );
    case "interface":
      return <InterfaceTab rows={keyRows(db)} />;
    case "log":
      return <LogTab db={db} words={params.q ?? ""} page={params.page} />;
  }
}

/** What each kind of rule data is, in a sentence; said above its figures. */
/** Factors from actual hours have a page of their own. */
type SheetKind = Exclude<PolicyKind, "hour calibration">;

const ABOUT: Readonly<Record<SheetKind, ReactNode>> = {
  "takeoff rules":
    "Each row counts something of a link end and asks for an item. Delivered rows are defaults: confirm them with the maker's instructions.",
  "takeoff policy":
    "Every delivered figure is a default: confirm it with the maker's instructions and local rules.",
  "weather limits": (
    <>
      {CAUTION} Anyone who plans may make a limit stricter; only an administrator may make one looser, with a
      reason that is logged.
    </>
  ),
  "hour norms":
    "Delivered figures are from memory and common practice: calibrate them with your own actuals.",
  "plan weights":
    "One unit is about what a crew costs in a minute and a half on the road; only ratios matter.",
  cutting: "How runs are cut from drums: what each cut loses, and what is too short to keep.",
  stock:
    "Which warehouse a kit is picked from, what a transfer takes, what orders and stock cost, and how safe is safe enough.",
  "acceptance limits":
    "What a reading is held against. The customer's acceptance procedure comes first; readings taken earlier are judged anew.",
};

const looserHint = (visitor: Visitor) =>
  visitor.role === "administrator"
    ? "A looser limit needs a sentence: why, and on whose decision. It is logged."
    : "You may make limits stricter. Kept in the history and the log.";

/** Figures or rows of one kind between what they are and how they came about. */
function Sheet({
  db,
  kind,
  visitor,
  children,
}: {
  db: Db;
  kind: SheetKind;
  visitor: Visitor;
  children: ReactNode;
}) {
  const zone = homeZone(db);
  const mayEdit = mayChange(visitor, kind);
  return (
    <div className="grid gap-4">
      <Notice kind={kind === "weather limits" ? "warn" : "info"}>
        {ABOUT[kind]} {mayEdit ? null : `Changed by ${english(rolesPhrase(MAY_CHANGE[kind]))}.`}{" "}
        {kind === "acceptance limits" ? null : (
          <>
            {kind === "hour norms" || EFFECT_FIRST.includes(kind)
              ? "After a save take-off and hours are worked out again; "
              : "After a save "}
            the dates follow with <Link href="/plan">a new plan</Link>.
          </>
        )}
      </Notice>
      {children}
      <History
        kind={kind}
        basedOn={versionInForce(db, kind)}
        effectFirst={EFFECT_FIRST.includes(kind)}
        mayEdit={mayEdit}
        reasonHint={kind === "weather limits" ? looserHint(visitor) : undefined}
        rows={policyHistory(db, kind).map((v) => ({
          version: v.version,
          by: v.changedBy,
          at: formatInstant(v.changedAt, zone),
          reason: v.reason,
        }))}
      />
    </div>
  );
}

function HoursTab({ db, visitor, mayEdit }: { db: Db; visitor: Visitor; mayEdit: boolean }) {
  const norms = bodyInForce(db, "hour norms") as HourNorms;
  const groups = new Map(figuresOf("hour norms", norms).map((g) => [g.id, g]));
  const rows = (list: "templates" | "alignmentTemplates") =>
    norms[list].map((t: TaskTemplate, i) => ({
      group: groups.get(`${list}-${i}`)!,
      where: t.where,
      people: peopleWords(t),
      workClass: t.workClass,
    }));
  const basedOn = versionInForce(db, "hour norms");
  return (
    <Sheet db={db} kind="hour norms" visitor={visitor}>
      <NormTable title="Tasks of one end" {...{ basedOn, mayEdit }} rows={rows("templates")} />
      <NormTable
        title="Tasks of the alignment visit"
        {...{ basedOn, mayEdit }}
        rows={rows("alignmentTemplates")}
      />
      <FiguresTab
        db={db}
        kind="hour norms"
        mayEdit={mayEdit}
        only={(g) => ["climb", "alignment", "learning", "rest", "site-rules"].includes(g.id)}
      />
    </Sheet>
  );
}

function ruleChoices(db: Db) {
  return {
    drivers: Object.entries(DRIVERS).map(([name, d]) => ({ name, meaning: d.meaning, perRun: d.perRun })),
    categories: ITEM_CATEGORIES,
    items: loadCatalogue(db).map(({ code, name, category }) => ({ code, name, category })),
    schemes: SCHEMES,
    structures: [
      { value: "lattice", label: "lattice tower" },
      { value: "mast", label: "guyed mast" },
      { value: "monopole", label: "monopole" },
      { value: "roof", label: "rooftop" },
    ],
    mounts: ANTENNA_MOUNTS,
  };
}
