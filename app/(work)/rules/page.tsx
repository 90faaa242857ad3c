import type { Metadata } from "next";
import Link from "next/link";
import type { ReactNode } from "react";
import { homeZone } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { rolesInWords } from "@/app/_server/roles";
import { EFFECT_FIRST, MAY_CHANGE, POLICY_KINDS } from "@/app/_server/ruleChange";
import { bodyInForce, saysTheSame } from "@/app/_server/ruleEdits";
import { figuresOf } from "@/app/_server/ruleFigures/figuresOf";
import { peopleWords } from "@/app/_server/ruleFigures/hourFigures";
import { requireRoleInRegions, type Visitor } from "@/app/_server/session";
import { LinkButton } from "@/app/_ui/Button";
import { formatInstant } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import { Notice } from "@/app/_ui/Notice";
import { PageHead } from "@/app/_ui/PageHead";
import { CAUTION } from "@/app/_ui/Shell";
import { Tabs } from "@/app/_ui/Tabs";
import { type Db, database } from "@/db/open";
import { currenciesInUse, loadApprovalLimits } from "@/db/queries/approval";
import { loadCatalogue, policyHistory } from "@/db/queries/catalogue";
import { planInForce } from "@/db/queries/plans";
import { siteRegions } from "@/db/queries/regions";
import { versionInForce } from "@/db/queries/rules";
import { readSetting } from "@/db/queries/settings";
import { crewCodes } from "@/db/queries/week";
import type { PolicyKind } from "@/db/schema";
import type { HourNorms, TaskTemplate } from "@/lib/hours";
import { ANTENNA_MOUNTS, ITEM_CATEGORIES, SCHEMES } from "@/lib/site";
import { DRIVERS, type TakeoffRule } from "@/lib/takeoff";
import { AccountsTab } from "./AccountsTab";
import { ApprovalLimits } from "./ApprovalLimits";
import { ABOUT, RULE_TABS, type SheetKind } from "./about";
import { accountRows } from "./accountRows";
import { BuyerForm } from "./BuyerForm";
import { CrewsTab } from "./CrewsTab";
import { FiguresTab } from "./FiguresTab";
import { History } from "./History";
import { InterfaceTab } from "./InterfaceTab";
import { keyRows } from "./interfaceRows";
import { LogTab } from "./LogTab";
import { NormTable } from "./NormTable";
import { RuleTable } from "./RuleTable";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("Rules") };
}

type TabName = keyof typeof RULE_TABS;

interface RulesPageProps {
  searchParams: Promise<Record<string, string | undefined>>;
}

export default async function RulesPage({ searchParams }: RulesPageProps) {
  const { t } = await serverWords();
  const visitor = await requireRoleInRegions();
  const params = await searchParams;
  const isAdministrator = visitor.role === "administrator";
  const seen = (Object.keys(RULE_TABS) as TabName[]).filter((t) =>
    t === "accounts" || t === "interface" ? isAdministrator : t === "log" ? visitor.regions === null : true,
  );
  const tab = seen.find((t) => t === params.tab) ?? "takeoff";
  const db = database();
  return (
    <>
      <PageHead
        title={t("Rules")}
        lead={t(
          "What material, hours, weather windows and plans are worked out from, who changed it and why.",
        )}
        actions={
          <>
            {isAdministrator ? <LinkButton href="/jobs">{t("Long work")}</LinkButton> : null}
            <LinkButton href="/account">{t("Your account")}</LinkButton>
          </>
        }
      />
      <PlanBehind db={db} visitor={visitor} />
      <Tabs
        label={t("Views of the rules")}
        tabs={seen.map((one) => ({
          href: `/rules?tab=${one}`,
          label: t(RULE_TABS[one]),
          current: one === tab,
        }))}
      />
      <TabBody tab={tab} db={db} visitor={visitor} params={params} />
    </>
  );
}

/** Says when the plan in force was made with other versions than those in force now. */
async function PlanBehind({ db, visitor }: { db: Db; visitor: Visitor }) {
  const { t } = await serverWords();
  const plan = planInForce(db);
  const made = plan?.basis.versions as Record<string, number> | undefined;
  if (!plan || !made) return null;
  const behind = POLICY_KINDS.filter((k) => !saysTheSame(db, k, made[k] ?? 0, versionInForce(db, k)));
  if (behind.length === 0) return null;
  const maySolve = isPlanner(visitor);
  return (
    <Notice
      kind="warn"
      title={t("The plan in force was made with earlier rules")}
      action={maySolve ? <LinkButton href="/plan/solve">{t("Solve anew")}</LinkButton> : undefined}
    >
      {behind
        .map((k) =>
          t("{{kind}}: made with version {{made}}, in force is {{now}}", {
            kind: t(k),
            made: made[k] ?? 0,
            now: versionInForce(db, k),
          }),
        )
        .join("; ")}
      . {t("Dates and kits follow only with a new plan.")}
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

async function TabBody({ tab, db, visitor, params }: TabProps): Promise<ReactNode> {
  const words = await serverWords();
  const may = (kind: PolicyKind) => mayChange(visitor, kind);
  switch (tab) {
    case "takeoff":
      return (
        <Sheet db={db} kind="takeoff rules" visitor={visitor}>
          <RuleTable
            rules={bodyInForce(db, "takeoff rules") as TakeoffRule[]}
            basedOn={versionInForce(db, "takeoff rules")}
            mayEdit={may("takeoff rules")}
            choices={ruleChoices(db, words)}
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
            reasonHint={looserHint(visitor, words)}
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
        <div className="grid gap-6">
          <AccountsTab
            people={accountRows(db, words.locale)}
            crews={crewCodes(db)}
            regions={siteRegions(db)}
            ownId={visitor.userId}
          />
          <BuyerForm buyer={readSetting(db, "buyer")} />
          <ApprovalLimits
            limits={loadApprovalLimits(db).map((l) => ({
              ...l,
              set: `${l.changedBy}, ${formatInstant(l.changedAt, homeZone(db), words.locale)}`,
            }))}
            currencies={currenciesInUse(db)}
          />
        </div>
      );
    case "interface":
      return <InterfaceTab rows={keyRows(db, words.locale)} />;
    case "log":
      return <LogTab db={db} words={params.q ?? ""} page={params.page} />;
  }
}

const looserHint = (visitor: Visitor, words: Words) =>
  visitor.role === "administrator"
    ? words.t(
        "A looser limit needs a sentence of at least 15 characters: why, and on whose decision. It is logged.",
      )
    : words.t(
        "You may make limits stricter; only an administrator makes one looser. Kept in the history and the log.",
      );

/** Figures or rows of one kind between what they are and how they came about. */
async function Sheet({
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
  const words = await serverWords();
  const { t, locale } = words;
  const zone = homeZone(db);
  const mayEdit = mayChange(visitor, kind);
  return (
    <div className="grid gap-4">
      <Notice kind={kind === "weather limits" ? "warn" : "info"}>
        {kind === "weather limits" ? `${t(CAUTION)} ` : null}
        {t(ABOUT[kind])}{" "}
        {mayEdit ? null : t("Changed by {{roles}}.", { roles: rolesInWords(MAY_CHANGE[kind], words) })}{" "}
        {kind === "acceptance limits" ? null : (
          <>
            {kind === "hour norms" || EFFECT_FIRST.includes(kind)
              ? `${t("After a save take-off and hours are worked out again;")} `
              : `${t("After a save")} `}
            {t("the dates follow with")} <Link href="/plan">{t("a new plan")}</Link>.
          </>
        )}
      </Notice>
      {children}
      <History
        kind={kind}
        basedOn={versionInForce(db, kind)}
        effectFirst={EFFECT_FIRST.includes(kind)}
        mayEdit={mayEdit}
        reasonHint={kind === "weather limits" ? looserHint(visitor, words) : undefined}
        rows={policyHistory(db, kind).map((v) => ({
          version: v.version,
          by: v.changedBy,
          at: formatInstant(v.changedAt, zone, locale),
          reason: v.reason,
        }))}
      />
    </div>
  );
}

async function HoursTab({ db, visitor, mayEdit }: { db: Db; visitor: Visitor; mayEdit: boolean }) {
  const { t } = await serverWords();
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
      <NormTable title={t("Tasks of one end")} {...{ basedOn, mayEdit }} rows={rows("templates")} />
      <NormTable
        title={t("Tasks of the alignment visit")}
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

function ruleChoices(db: Db, words: Words) {
  const { t } = words;
  return {
    drivers: Object.entries(DRIVERS).map(([name, d]) => ({ name, meaning: d.meaning, perRun: d.perRun })),
    categories: ITEM_CATEGORIES,
    items: loadCatalogue(db).map(({ code, name, category }) => ({ code, name, category })),
    schemes: SCHEMES,
    structures: [
      { value: "lattice", label: t("lattice tower") },
      { value: "mast", label: t("guyed mast") },
      { value: "monopole", label: t("monopole") },
      { value: "roof", label: t("rooftop") },
    ],
    mounts: ANTENNA_MOUNTS,
  };
}
